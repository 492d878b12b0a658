import { expect, test } from 'vitest'
import { readMidiFile } from '../../../src/midi/file-read.ts'
import { describeFileError, describeWarning } from '../../../src/midi/file-words.ts'
import { characters, END, file, header, NOTE, tempo, track, word } from '../../support/midi-files.ts'

const good = track([...NOTE, ...END])

/** A broken file, how many messages can still be had from it, and what is said about it. */
type Broken = readonly [name: string, bytes: Uint8Array, messages: number, words: readonly string[]]

const READABLE: readonly Broken[] = [
  [
    'cut inside an event',
    file(header(), track([...NOTE, 0, 0x90, 60], 40)),
    2,
    [
      'track 1, byte 31: the track breaks off inside an event, or the event claims more bytes than there are; the 2 message(s) before it were kept, this event and what follows in the track were not',
      'track 1, byte 18: the track says it is 40 bytes long, but only 12 follow; what is there was read',
    ],
  ],
  [
    'a track that claims more than the file has, but ends properly',
    file(header(), track([...NOTE, ...END], 5000)),
    2,
    [
      'track 1, byte 18: the track says it is 5000 bytes long, but only 13 follow; it was read to its end-of-track event',
    ],
  ],
  [
    'a track that claims less than it has',
    file(header(), track([...NOTE, ...END], 5)),
    2,
    [
      'track 1, byte 18: the track says it is 5 bytes long, but no chunk follows there; it was read to its end-of-track event',
    ],
  ],
  [
    'a first track whose length reaches into the second',
    file(header({ format: 1, tracks: 2 }), track([...NOTE, ...END], 17), good),
    4,
    [
      'track 1, byte 18: the track says it is 17 bytes long, but no chunk follows there; it was read to its end-of-track event',
    ],
  ],
  [
    'a first track whose length swallows the second whole',
    file(header({ format: 1, tracks: 2 }), track([...NOTE, ...END], 13 + good.length), good),
    4,
    [
      'track 1, byte 18: the track says it is 34 bytes long, but the next track begins 13 bytes in; the next track was read from there',
    ],
  ],
  [
    'no end-of-track event',
    file(header(), track(NOTE)),
    2,
    ['track 1, byte 31: the track has no end-of-track event; it ends with its last event'],
  ],
  [
    'bytes after the end-of-track event',
    file(header(), track([...NOTE, ...END, 1, 2, 3])),
    2,
    ['track 1, byte 35: 3 byte(s) after the end-of-track event; they were ignored'],
  ],
  [
    'running status after a meta event',
    file(
      header(),
      track([...NOTE.slice(0, 4), ...tempo(400_000), 10, 62, 64, ...tempo(500_000), 1, 64, 64, ...END]),
    ),
    3,
    [
      'track 1, byte 33: running status goes on after a meta or system exclusive event, where the standard ends it (2 times); the status before that event was used',
    ],
  ],
  [
    'data before any status',
    file(header(), track([0, 60, 64, 0x90, 60, 64, ...END])),
    1,
    ['track 1, byte 23: data without a status byte before it; 2 byte(s) were skipped'],
  ],
  [
    'a delta time over the largest quantity',
    file(header(), track([0xff, 0xff, 0xff, 0xff, 0x7f, ...NOTE.slice(1), ...END])),
    2,
    ['track 1, byte 22: a delta time over 0FFFFFFF; the event was put at the time of the one before'],
  ],
  [
    'a text longer than the track',
    file(header(), track([...NOTE, 0, 0xff, 1, 0xff, 0xff, 0xff, 0x7f, 65, ...END])),
    2,
    [
      'track 1, byte 31: the track breaks off inside an event, or the event claims more bytes than there are; the 2 message(s) before it were kept, this event and what follows in the track were not',
    ],
  ],
  [
    'a data byte with its upper bit set',
    file(header(), track([0, 0x90, 0xbc, 64, ...NOTE, ...END])),
    2,
    ['track 1, byte 22: a message with a data byte over 7F; the message was left out'],
  ],
  [
    'a clock message as it stands',
    file(header(), track([0, 0xf8, ...NOTE, ...END])),
    3,
    ['track 1, byte 22: status F8 may not stand in a file as it is; it was kept as a message'],
  ],
  [
    'an undefined status',
    file(header(), track([0, 0xf4, ...NOTE, ...END])),
    2,
    ['track 1, byte 22: status F4 may not stand in a file as it is; it was left out'],
  ],
  [
    'a system exclusive that never ends',
    file(header(), track([0, 0xf0, 2, 0x7d, 1, ...NOTE, ...END])),
    2,
    ['track 1, byte 29: a system exclusive without its end (F7); it was dropped whole'],
  ],
  [
    'a system exclusive broken off inside its packet',
    file(header(), track([0, 0xf0, 4, 0x7d, 0x90, 1, 2, ...NOTE, ...END])),
    3,
    [
      'track 1, byte 22: system exclusive broken off by another status byte; dropped whole; the rest of its packet was kept',
    ],
  ],
  [
    'a tempo of 0',
    file(header(), track([...tempo(0), ...NOTE, ...END])),
    2,
    ['track 1, byte 22: a tempo of 0 microseconds a beat; it was ignored'],
  ],
  [
    'a tempo of two bytes',
    file(header(), track([0, 0xff, 0x51, 2, 7, 0xa1, ...NOTE, ...END])),
    2,
    ['track 1, byte 22: a tempo takes 3 bytes, here are 2; it was ignored'],
  ],
  [
    'a time signature of 0 beats',
    file(header(), track([0, 0xff, 0x58, 4, 0, 2, 24, 8, ...NOTE, ...END])),
    2,
    ['track 1, byte 22: a time signature that makes no sense; it was ignored'],
  ],
  [
    'more tracks than the header counts',
    file(header({ format: 1, tracks: 1 }), good, good),
    4,
    ['byte 10: the header counts 1 track(s), the file has 2; all were read'],
  ],
  [
    'fewer tracks than the header counts',
    file(header({ format: 1, tracks: 65535 }), good),
    2,
    ['byte 10: the header counts 65535 track(s), the file has 1; all were read'],
  ],
  [
    'format 0 with two tracks',
    file(header({ format: 0, tracks: 2 }), good, good),
    4,
    ['byte 10: format 0 has one track, this file has 2; read as format 1: at the same time'],
  ],
  [
    'an unknown format',
    file(header({ format: 7 }), good),
    2,
    ['byte 8: format 7 is unknown (0, 1 and 2 are); read as format 1: tracks at the same time'],
  ],
  [
    'a frame rate that SMPTE does not have',
    file(header({ division: 0xe928 }), good),
    2,
    ['byte 12: 23 frames a second is not a SMPTE rate (24, 25, 29 or 30); the rate was used as it stands'],
  ],
  [
    'a header that claims more than the file',
    file(header({ length: 999_999 }), good),
    2,
    ['byte 4: the header says it is 999999 bytes long, but a track follows after 6; read as 6 bytes'],
  ],
  [
    'noise between tracks',
    file(header({ format: 1, tracks: 2 }), good, [1, 2, 3, 4, 5, 6, 7, 8, 9], good),
    4,
    ['byte 35: 9 byte(s) that belong to no chunk ("...."); they were skipped'],
  ],
  [
    'an ending of another system',
    file(header(), good, [0x1a]),
    2,
    ['byte 35: 1 byte(s) that belong to no chunk ("."); they were skipped'],
  ],
  [
    'foreign bytes before the header',
    file([0, 1, 2, 3], header(), good),
    2,
    ['byte 0: 4 byte(s) before the header "MThd"; they were skipped'],
  ],
  [
    'a RIFF length beyond the file',
    file(characters('RIFF'), word(0, 4), characters('RMIDdata'), [0xff, 0, 0, 0], header(), good),
    2,
    ['byte 12: the RIFF data is 35 bytes, not 255 as it says; what is there was read'],
  ],
  [
    'a delta time of a month',
    file(header({ division: 1 }), track([0x82, 0xc0, 0x80, 0, ...NOTE.slice(1), ...END])),
    2,
    ['byte 14: the take lasts 728 hours: a delta time may be damaged; it was kept'],
  ],
]

test.each(READABLE)('%s', (_name, bytes, messages, words) => {
  const result = readMidiFile(bytes)
  if (!result.ok) throw new Error(describeFileError(result.error))
  expect(result.file.warnings.map(describeWarning)).toEqual(words)
  expect(result.file.tracks.reduce((sum, { events }) => sum + events.length, 0)).toBe(messages)
})

test.each<[string, Uint8Array, string]>([
  [
    'an empty file',
    file(),
    'the file is empty (it has 0 bytes). Record or export the take again, then give the new file.',
  ],
  [
    'a text',
    file(characters('fern, moss, reed')),
    'this is not a MIDI file: it begins with 66 65 72 6E, not with "MThd" (4D 54 68 64) (byte 0). Give a Standard MIDI File (.mid, .midi, .smf or .rmi).',
  ],
  [
    'a file cut in its header',
    file(header().slice(0, 11)),
    'the file ends inside its header, after 11 of 14 bytes (byte 11). The copy is cut short: copy or export the take again.',
  ],
  [
    'a header too short',
    file(header({ length: 4 }), good),
    'the header says it is 4 bytes long, but takes at least 6 (byte 4). The file is damaged: export the take again.',
  ],
  [
    'a division of 0',
    file(header({ division: 0 }), good),
    'the header says 0 ticks a beat (byte 12). Without it no event has a time: export the take again with, say, 480 ticks a beat.',
  ],
  [
    'no ticks in a frame',
    file(header({ division: 0xe700 }), good),
    'the header says 0 ticks a frame (byte 12). Without it no event has a time: export the take again with, say, 480 ticks a beat.',
  ],
  [
    'no track',
    file(header({ tracks: 3 })),
    'the file holds no track ("MTrk"), though its header counts 3 (byte 14). There is nothing to play: export or copy the take again.',
  ],
  [
    'a RIFF file without data',
    file(characters('RIFF'), word(0, 4), characters('RMIDLIST'), [2, 0, 0, 0, 1, 2]),
    'the RIFF file has no "data" chunk (byte 12). Export the take again as a plain Standard MIDI File (.mid).',
  ],
  [
    'a RIFF file with something else in it',
    file(characters('RIFF'), word(0, 4), characters('RMIDdata'), [4, 0, 0, 0, 1, 2, 3, 4]),
    'the RIFF data holds no MIDI file ("MThd" is missing) (byte 20). Export the take again as a plain Standard MIDI File (.mid).',
  ],
])('%s is refused', (_name, bytes, words) => {
  const result = readMidiFile(bytes)
  expect(result.ok ? result.file.warnings.map(describeWarning) : describeFileError(result.error)).toBe(words)
})
