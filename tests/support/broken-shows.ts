import { edited } from './edit-json.ts'
import type { Json } from './shows.ts'
import { glasshouse, glasshouseText } from './shows.ts'

/** The good show that they are made from. */
export const GOOD = glasshouseText()
const PART = 'songs.0.parts.0'
const DIN = { id: 'wire', kind: 'midi', port: 'Lamp box' }

const PADS = { id: 'keys', kind: 'pads', input: { port: 'Pads' } }
const PADS_CURVE = [
  [1, 40],
  [20, 39],
  [20, 60],
]

/** The good show with one thing changed. */
function edit(path: string, value: Json | undefined): string {
  return JSON.stringify(edited(glasshouse(), path, value), null, 2)
}

/** Texts of show files that are none, and what is told of each. */
export const BROKEN_SHOWS: readonly (readonly [name: string, text: string, ...messages: string[]])[] = [
  ['an empty file', '', '$: the file is empty; expected a Lanthorn show'],
  ['only white space and a byte-order mark', '\uFEFF \n', '$: the file is empty; expected a Lanthorn show'],
  [
    'a file of zero bytes',
    '\0'.repeat(512),
    '$: the file holds nothing but zero bytes; expected a Lanthorn show; it was probably cut off while being saved: take an earlier copy',
  ],
  [
    'a file that is not UTF-8',
    '\uFFFD\uFFFD{',
    '$: the file is not UTF-8 text; expected a Lanthorn show; save it again as UTF-8',
  ],
  [
    'a UTF-16 file read as UTF-8',
    '{\0"\0f\0',
    '$: the file is not UTF-8 text; expected a Lanthorn show; save it again as UTF-8',
  ],
  [
    'a torn file',
    GOOD.slice(0, 300),
    '$ (line 18, column 8): the file breaks off here; expected the rest of the show; it was probably not saved or copied to its end: take an earlier copy',
  ],
  [
    'a file torn inside a word',
    GOOD.slice(0, GOOD.indexOf('bench') + 3),
    '$ (line 8, column 19): the file breaks off here; expected the rest of the show; it was probably not saved or copied to its end: take an earlier copy',
  ],
  [
    'a comma too many',
    GOOD.replace('"Glasshouse",', '"Glasshouse",,'),
    '$ (line 4, column 25): not JSON: found `,`; expected a field name in double quotes',
  ],
  [
    'two trailing commas in lists and objects',
    GOOD.replace('"maxAmps": 5', '"maxAmps": 5,').replace('"Keybed"', '"Keybed",'),
    '$ (line 10, column 21): a comma with nothing after it; expected no comma here',
    '$ (line 56, column 25): a comma with nothing after it; expected no comma here',
  ],
  [
    'a missing comma',
    GOOD.replace('"version": 1,', '"version": 1'),
    '$ (line 4, column 3): not JSON: found `"title"`; expected a comma between two items',
  ],
  [
    'a comment',
    GOOD.replace('{', '{ // our second night'),
    '$ (line 1, column 3): not JSON: found `// our second night`; expected no comment, which JSON does not have',
  ],
  [
    'a field name without quotes',
    GOOD.replace('"title"', 'title'),
    '$ (line 4, column 3): not JSON: found `title`; expected a field name in double quotes',
  ],
  [
    'single quotes',
    GOOD.replace('"Glasshouse"', "'Glasshouse'"),
    "$ (line 4, column 12): not JSON: found `'Glasshouse'`; expected a value: text in double quotes, a number, true, false, null, {...} or [...]",
  ],
  [
    'a quote that is not closed',
    GOOD.replace('"Glasshouse"', '"Glasshouse'),
    '$ (line 4, column 12): not JSON: found `"Glasshouse,`; expected a closing double quote on the same line',
  ],
  [
    'a missing value',
    GOOD.replace('"maxAmps": 5', '"maxAmps":'),
    '$ (line 11, column 7): not JSON: found `}`; expected a value',
  ],
  [
    'text after the show',
    `${GOOD}and more`,
    '$ (line 82, column 1): not JSON: found `and`; expected a value: text in double quotes, a number, true, false, null, {...} or [...]',
  ],
  [
    'a field given twice',
    GOOD.replace('"volts": 12', '"volts": 24, "volts": 12'),
    '$.rig.supplies[0].volts (line 9): the field "volts" is given twice, on lines 9 and 9; expected it once',
  ],
  [
    'a list instead of a show',
    '[1, 2]',
    '$ (line 1, column 1): this is not a Lanthorn show: found a list of 2; expected an object',
  ],
  [
    'nesting without end',
    '['.repeat(100_000),
    '$ (line 1, column 65): nested more than 64 deep; expected a Lanthorn show',
  ],
  [
    'no format',
    edit('format', undefined),
    '$.format (line 1): this is not a Lanthorn show: the field "format" is missing; expected "lanthorn-show"',
  ],
  [
    'another format',
    edit('format', 'lanthorn_show'),
    '$.format (line 2): this is not a Lanthorn show: found "lanthorn_show"; expected "lanthorn-show"; did you mean "lanthorn-show"?',
  ],
  [
    'no version',
    edit('version', undefined),
    '$.version (line 1): the field "version" is missing; expected a whole number, 1 for shows of this Lanthorn',
  ],
  [
    'a version that is text',
    edit('version', '1'),
    '$.version (line 3): found "1"; expected a whole number, 1 for shows of this Lanthorn',
  ],
  [
    'a newer version',
    edit('version', 7),
    '$.version (line 3): made by a newer Lanthorn, version 7; this one reads up to 1; nothing was changed; open it with the newer Lanthorn',
  ],
  [
    'a version that never was',
    edit('version', 0),
    '$.version (line 3): no way leads on from version 0; nothing was changed; expected version 1',
  ],
  [
    'an unknown field at the top',
    edit('setlist', ['tide']),
    '$.setlist (line 81): unknown field "setlist"; expected one of "format", "version", "title", "rig", "thru", "players", "tunings", "songs", "setList", "switching", "clock", "guards"; did you mean "setList"?',
  ],
  [
    '__proto__',
    GOOD.replace('"volts"', '"__proto__": { "usable": 1 }, "volts"'),
    '$.rig.supplies[0].__proto__ (line 9): unknown field "__proto__"; expected one of "id", "volts", "maxAmps", "usable"',
  ],
  [
    'an unknown field with no near word',
    edit('songs.0.colour', 'green'),
    '$.songs[0].colour (line 79): unknown field "colour"; expected one of "id", "title", "tempo", "beats", "tuning", "wander", "enter", "enterAt", "variantOf", "skip", "minutes", "flash", "takes", "notes", "parts", "patterns"',
  ],
  [
    'a field with an endless name',
    edit('x'.repeat(5000), 1),
    '$["xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx..."] (line 81): unknown field "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx...; expected one of "format", "version", "title", "rig", "thru", "players", "tunings", "songs", "setList", "switching", "clock", "guards"',
  ],
  [
    'a reference of endless length',
    edit(PART + '.player', 'x'.repeat(5000)),
    '$.songs[0].parts[0].player (line 67): no player has the id "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx...; expected "keys"',
  ],
  [
    'a mistyped field',
    edit('songs.0.tempoo', 97),
    '$.songs[0].tempoo (line 79): unknown field "tempoo"; expected one of "id", "title", "tempo", "beats", "tuning", "wander", "enter", "enterAt", "variantOf", "skip", "minutes", "flash", "takes", "notes", "parts", "patterns"; did you mean "tempo"?',
  ],
  [
    'no title',
    edit('songs.0.title', undefined),
    '$.songs[0].title (line 61): the field "title" is missing; expected text of 1 to 200 characters',
  ],
  ['an empty title', edit('title', ''), '$.title (line 4): found ""; expected text of 1 to 200 characters'],
  [
    'a tempo that is text',
    edit('songs.0.tempo', 'fast'),
    '$.songs[0].tempo (line 79): found "fast"; expected a number from 10 to 1000',
  ],
  [
    'a tempo out of range',
    edit('songs.0.tempo', 0),
    '$.songs[0].tempo (line 79): found 0; expected a number from 10 to 1000',
  ],
  [
    'a number too large',
    GOOD.replace('"volts": 12', '"volts": 1e999'),
    '$.rig.supplies[0].volts (line 9): found a number too large to count with; expected a number above 0 and up to 1000',
  ],
  [
    'half a slot',
    edit('rig.lamps.0.slot', 0.5),
    '$.rig.lamps[0].slot (line 24): found 0.5; expected a whole number from 0 to 255',
  ],
  [
    'no watts',
    edit('rig.lamps.0.watts', 0),
    '$.rig.lamps[0].watts (line 26): found 0; expected a number above 0 and up to 100000',
  ],
  [
    'null',
    edit('rig.lamps.1.watts', null),
    '$.rig.lamps[1].watts (line 33): found null; expected a number above 0 and up to 100000',
  ],
  [
    'a usable part over one',
    edit('rig.supplies.0.usable', 1.5),
    '$.rig.supplies[0].usable (line 11): found 1.5; expected a number above 0 and up to 1',
  ],
  [
    'an id that would be a path',
    edit('rig.outputs.0.id', '../wire'),
    '$.rig.outputs[0].id (line 15): found "../wire"; expected an id of letters, digits, "-" and "_"',
  ],
  [
    'no lamps',
    edit('rig.lamps', []),
    '$.rig.lamps (line 20): found an empty list; expected a list of at least 1 item, each an object with "id", "output", "slot", "supply"',
  ],
  [
    'no songs',
    edit('songs', []),
    '$.songs (line 60): found an empty list; expected a list of at least 1 item, each an object with "id", "title", "parts"',
  ],
  [
    'a channel 17',
    edit('players.0.input.channels', [1, 17]),
    '$.players[0].input.channels[1] (line 59): found 17; expected a whole number from 1 to 16',
  ],
  [
    'no channels',
    edit('players.0.input.channels', []),
    '$.players[0].input.channels (line 57): found an empty list; expected a list of 1 to 16 items, each a whole number from 1 to 16',
  ],
  [
    'an unknown kind of player',
    edit('players.0.kind', 'key'),
    '$.players[0].kind (line 54): found "key"; expected one of "keys", "pads", "strings"; did you mean "keys"?',
  ],
  [
    'a player without a kind',
    edit('players.0.kind', undefined),
    '$.players[0].kind (line 52): the field "kind" is missing; expected one of "keys", "pads", "strings"',
  ],
  [
    'a field of another kind of player',
    edit('players.0.gateMs', 100),
    '$.players[0].gateMs (line 58): unknown field "gateMs"; expected one of "id", "name", "kind", "input", "bendRange"',
  ],
  [
    'a curve of a wrong name',
    edit('players.0', { ...PADS, curve: 'softer' }),
    '$.players[0].curve (line 58): found "softer"; expected one of "linear", "soft", "hard", or a list of 1 to 16 items, each a list of exactly 2; did you mean "soft"?',
  ],
  [
    'a curve that falls',
    edit('players.0', { ...PADS, curve: PADS_CURVE }),
    '$.players[0].curve[1][1] (line 65): found 39; expected at least 40, the velocity taken of the point before: a curve does not fall',
    '$.players[0].curve[2][0] (line 68): found 20; expected more than 20, the velocity struck of the point before: a curve does not fall',
  ],
  [
    'a point beyond what can be struck',
    edit('players.0', { ...PADS, curve: [[0, 64]] }),
    '$.players[0].curve[0][0] (line 60): found 0; expected a whole number from 1 to 127',
  ],
  [
    'a pad listed twice, and one without a name',
    edit('players.0', {
      ...PADS,
      pads: [
        { key: 38, name: 'Snare' },
        { key: 38, name: 'Rim', curve: PADS_CURVE.slice(0, 2) },
        { key: 36 },
      ],
    }),
    '$.players[0].pads[1].key (line 64): key 38 is that of $.players[0].pads[0].key; expected a key of its own',
    '$.players[0].pads[1].curve[1][1] (line 73): found 39; expected at least 40, the velocity taken of the point before: a curve does not fall',
    '$.players[0].pads[2].name (line 77): the field "name" is missing; expected text of 1 to 200 characters',
  ],
  [
    'an unknown kind of output',
    edit('rig.outputs.0.kind', 'usb'),
    '$.rig.outputs[0].kind (line 16): found "usb"; expected "serial" or "midi"',
  ],
  [
    'an unknown tuning kind',
    edit('tunings', [{ id: 'odd', kind: 'just' }]),
    '$.tunings[0].kind (line 84): found "just"; expected one of "equal", "scale", "received"',
  ],
  [
    'a way to enter that there is not',
    edit('songs.0.enter', 'carrry'),
    '$.songs[0].enter (line 79): found "carrry"; expected "cut" or "carry"; did you mean "carry"?',
  ],
  [
    'a strategy that there is not',
    edit(PART + '.strategy.kind', 'lowest_free'),
    '$.songs[0].parts[0].strategy.kind (line 75): found "lowest_free"; expected one of "unison", "lowest-free", "travel", "rotate", "nearest", "chime", "partials", "canon", "steps"; did you mean "lowest-free"?',
  ],
  [
    'a strategy that is only a name',
    edit(PART + '.strategy', 'unison'),
    '$.songs[0].parts[0].strategy (line 74): found "unison"; expected an object with "kind" one of "unison", "lowest-free", "travel", "rotate", "nearest", "chime", "partials", "canon", "steps"',
  ],
  [
    'an option of another strategy',
    edit(PART + '.strategy', { kind: 'unison', steal: 'none' }),
    '$.songs[0].parts[0].strategy.steal (line 76): unknown field "steal"; expected one of "priority", "detuneCents", "spreadCents", "retrigger", "kind"',
  ],
  [
    'a mistyped steal',
    edit(PART + '.strategy.steal', 'oldst'),
    '$.songs[0].parts[0].strategy.steal (line 76): found "oldst"; expected one of "oldest", "quietest", "lowest", "highest", "none"; did you mean "oldest"?',
  ],
  [
    'a mistyped path',
    edit(PART + '.strategy', { kind: 'travel', path: 'pendulm' }),
    '$.songs[0].parts[0].strategy.path (line 76): found "pendulm"; expected one of "forward", "backward", "pendulum", "inward", "outward", "shuffle", or a list of at least 1 item, each text; did you mean "pendulum"?',
  ],
  [
    'a path over a lamp that the part has not',
    edit(PART + '.strategy', { kind: 'travel', path: ['fern', 'ivy'] }),
    '$.songs[0].parts[0].strategy.path (line 76): lamp "ivy" is not among the part\'s lamps',
  ],
  [
    'a move that is a number',
    edit(PART + '.strategy', { kind: 'travel', move: 90 }),
    '$.songs[0].parts[0].strategy.move (line 76): found 90; expected "note", or an object with "every", or an object with "everyMs"',
  ],
  [
    'an empty move',
    edit(PART + '.strategy', { kind: 'travel', move: {} }),
    '$.songs[0].parts[0].strategy.move (line 76): found an empty object; expected "note", or an object with "every", or an object with "everyMs"',
  ],
  [
    'a move with a bad note value',
    edit(PART + '.strategy', { kind: 'travel', move: { every: 'often' } }),
    '$.songs[0].parts[0].strategy.move.every (line 77): found "often"; expected a note value such as "1/16"',
  ],
  [
    'a move with both paces',
    edit(PART + '.strategy', { kind: 'travel', move: { every: '1/16', everyMs: 90 } }),
    '$.songs[0].parts[0].strategy.move (line 76): found an object; expected "note", or an object with "every", or an object with "everyMs"',
  ],
  [
    'a chime with too few notes',
    edit(PART + '.strategy', { kind: 'chime', notes: [60, 62] }),
    '$.songs[0].parts[0].strategy.notes (line 76): 2 notes for 4 lamps; give exactly one per lamp',
  ],
  [
    'an output that there is not',
    edit('rig.lamps.2.output', 'wier'),
    '$.rig.lamps[2].output (line 37): no output has the id "wier"; expected "wire"; did you mean "wire"?',
  ],
  [
    'a supply that there is not',
    edit('rig.lamps.2.supply', 'mains'),
    '$.rig.lamps[2].supply (line 39): no supply has the id "mains"; expected "bench"',
  ],
  [
    'a lamp that there is not',
    edit(PART + '.lamps.2', 'reeed'),
    '$.songs[0].parts[0].lamps[2] (line 71): no lamp has the id "reeed"; expected one of "fern", "moss", "reed", "sedge"; did you mean "reed"?',
  ],
  [
    'a player that there is not',
    edit(PART + '.player', 'drums'),
    '$.songs[0].parts[0].player (line 67): no player has the id "drums"; expected "keys"',
  ],
  [
    'a tuning that there is not',
    edit('songs.0.tuning', 'evn'),
    '$.songs[0].tuning (line 79): no tuning has the id "evn"; expected "even"; did you mean "even"?',
  ],
  [
    'a song in the set list that there is not',
    edit('setList', ['tide', 'ebb']),
    '$.setList[1] (line 83): no song has the id "ebb"; expected "tide"',
  ],
  [
    'an empty set list',
    edit('setList', []),
    '$.setList (line 81): found an empty list; expected a list of at least 1 item, each text',
  ],
  [
    'two lamps of one id',
    edit('rig.lamps.1.id', 'Fern'),
    '$.rig.lamps[1].id (line 29): the id "Fern" is taken by $.rig.lamps[0].id; expected an id of its own (capitals make no difference)',
    '$.songs[0].parts[0].lamps[1] (line 70): no lamp has the id "moss"; expected one of "fern", "Fern", "reed", "sedge"',
  ],
  [
    'two lamps on one slot',
    edit('rig.lamps.3.slot', 0),
    '$.rig.lamps[3].slot (line 45): slot 0 of output "wire" is taken by $.rig.lamps[0].slot; expected a slot of its own',
  ],
  [
    'a part that lists a lamp twice',
    edit(PART + '.lamps.3', 'fern'),
    '$.songs[0].parts[0].lamps[3] (line 72): lamp "fern" is listed twice; expected each lamp once',
  ],
  [
    'a part without lamps',
    edit(PART + '.lamps', []),
    '$.songs[0].parts[0].lamps (line 68): found an empty list; expected a list of at least 1 item, each text',
  ],
  [
    'notes upside down',
    edit(PART + '.notes', [72, 48]),
    '$.songs[0].parts[0].notes (line 77): found [72, 48]; expected the lowest key, then the highest',
  ],
  [
    'notes with one end',
    edit(PART + '.notes', [48]),
    '$.songs[0].parts[0].notes (line 77): found a list of 1; expected a list of exactly 2',
  ],
  [
    'two sources of duty',
    edit(PART + '.duty', { controller: 74, velocity: true }),
    '$.songs[0].parts[0].duty (line 77): found both "controller" and "velocity"; expected one of the two',
  ],
  [
    'a duty over one',
    edit(PART + '.duty', { base: 50 }),
    '$.songs[0].parts[0].duty.base (line 78): found 50; expected a number from 0 to 1',
  ],
  [
    'a claim without a when',
    edit(PART + '.claim', { releaseMs: 200 }),
    '$.songs[0].parts[0].claim.when (line 77): the field "when" is missing; expected one of "playing", "latched", "always"',
  ],
  [
    'a priority out of range',
    edit(PART + '.claim', { when: 'playing', priority: 101 }),
    '$.songs[0].parts[0].claim.priority (line 79): found 101; expected a whole number from -100 to 100',
  ],
  [
    'an unknown way to lose a lamp',
    edit(PART + '.onLost', 'wait'),
    '$.songs[0].parts[0].onLost (line 77): found "wait"; expected "move" or "end"',
  ],
  [
    'a range upside down',
    edit('rig.lamps.0.lowHz', 5000),
    '$.rig.lamps[0].highHz (line 21): found 4200; expected more than lowHz, which is 5000',
  ],
  [
    'duty limits upside down',
    edit('rig.lamps.0.minDuty', 0.6),
    '$.rig.lamps[0].maxDuty (line 21): found 0.5; expected at least minDuty, which is 0.6',
  ],
  [
    'prescalers out of order',
    edit('rig.outputs.0.timer', { prescalers: [1, 64, 8] }),
    '$.rig.outputs[0].timer.prescalers[2] (line 22): found 8 after 64; expected prescalers in rising order',
  ],
  [
    'thru to a serial output',
    edit('thru', [{ player: 'keys', to: 'wire', pass: ['bend'] }]),
    '$.thru[0].to (line 84): output "wire" is serial and has no place for MIDI; expected a MIDI output',
  ],
  [
    'thru of something that cannot pass',
    edit('thru', [{ player: 'keys', to: 'wire', pass: ['pressure'] }]),
    '$.thru[0].to (line 84): output "wire" is serial and has no place for MIDI; expected a MIDI output',
    '$.thru[0].pass[0] (line 86): found "pressure"; expected one of "controllers", "bend", "clock", "notes"',
  ],
  [
    'a slot past channel 16',
    edit('rig.outputs.0', { ...DIN, layout: 'channel-per-lamp', firstChannel: 14 }),
    '$.rig.lamps[3].slot (line 47): slot 3 would be channel 17; expected a slot from 0 to 2 on this output',
  ],
  [
    'a slot past key 127',
    edit('rig.outputs.0', { ...DIN, layout: 'note-per-lamp', firstNote: 126 }),
    '$.rig.lamps[2].slot (line 40): slot 2 would be key 128; expected a slot from 0 to 1 on this output',
    '$.rig.lamps[3].slot (line 47): slot 3 would be key 129; expected a slot from 0 to 1 on this output',
  ],
  [
    "an MPE zone on its manager's channel",
    edit('rig.outputs.0', { ...DIN, layout: 'mpe', firstChannel: 1 }),
    "$.rig.outputs[0].firstChannel (line 19): found 1, which is the manager's channel of an MPE lower zone; expected a whole number from 2 to 16",
  ],
  [
    'duty on a parameter controller',
    edit('rig.outputs.0', { ...DIN, layout: 'mpe', dutyController: 6 }),
    '$.rig.outputs[0].dutyController (line 19): controller 6 carries parameter numbers; expected another controller, such as 74',
  ],
  [
    'a flash guard that would do more than it can',
    edit('guards', { flash: { action: 'refuse' } }),
    '$.guards.flash.action (line 83): found "refuse"; expected one of "warn", "fold", "glow", "limit", "off"',
  ],
  [
    'several faults at once',
    edit('songs.0', { id: 'tide', tittle: 'Tide', parts: [{ id: 'lead', player: 'key', lamps: ['fren'] }] }),
    '$.songs[0].title (line 61): the field "title" is missing; expected text of 1 to 200 characters',
    '$.songs[0].tittle (line 63): unknown field "tittle"; expected one of "id", "title", "tempo", "beats", "tuning", "wander", "enter", "enterAt", "variantOf", "skip", "minutes", "flash", "takes", "notes", "parts", "patterns"; did you mean "title"?',
    '$.songs[0].parts[0].strategy (line 65): the field "strategy" is missing; expected an object with "kind" one of "unison", "lowest-free", "travel", "rotate", "nearest", "chime", "partials", "canon", "steps"',
    '$.songs[0].parts[0].player (line 67): no player has the id "key"; expected "keys"; did you mean "keys"?',
    '$.songs[0].parts[0].lamps[0] (line 69): no lamp has the id "fren"; expected one of "fern", "moss", "reed", "sedge"; did you mean "fern"?',
  ],
]
