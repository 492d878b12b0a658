// vectors.json as lines for vectors-test: a word that says what is checked, then hex and numbers. `-` is no bytes.
import { readFileSync } from 'node:fs'

const vectors = JSON.parse(readFileSync(new URL('../vectors.json', import.meta.url), 'utf8'))
const hex = (text) => text || '-'
const numbers = (frame) => {
  switch (frame.type) {
    case 'hello':
      return [1, frame.sequence, frame.version]
    case 'set':
      return [
        2,
        frame.sequence,
        frame.at,
        frame.lamps.length,
        ...frame.lamps.flatMap(({ slot, rate, duty }) => [slot, rate, duty]),
      ]
    case 'dark':
      return [3, frame.sequence]
    case 'beat':
      return [4, frame.sequence, frame.micros]
    case 'identity':
      return [
        0x81,
        frame.sequence,
        frame.version,
        frame.lamps,
        frame.clockHz,
        frame.bits,
        frame.prescalers.length,
        ...frame.prescalers,
      ]
    case 'reply':
      return [
        0x82,
        frame.sequence,
        frame.answers,
        ['done', 'no-such-slot', 'late', 'refused'].indexOf(frame.status),
        frame.micros,
      ]
    default:
      throw new Error(`vectors.json has a frame of type ${frame.type}, which this script does not know`)
  }
}

const lines = [
  ...vectors.cobs.map(({ data, block }) => ['cobs', hex(data), hex(block)]),
  ...vectors.crc.map(({ data, crc }) => ['crc', hex(data), crc]),
  ...vectors.frames.map(({ frame, payload, wire }) => ['frame', payload, wire, ...numbers(frame)]),
  ...vectors.damaged.map(({ block, damage }) => ['damaged', damage, hex(block)]),
  ...vectors.timers.map(({ rate, prescaler, top }) => ['timer', rate, prescaler ?? 0, top ?? 0]),
  ...vectors.duties.map(({ duty, top, ticks }) => ['duty', duty, top, ticks]),
]
process.stdout.write(lines.map((line) => `${line.join(' ')}\n`).join(''))
