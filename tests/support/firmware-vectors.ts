import { cobsEncode } from '../../src/outputs/cobs.ts'
import { crc16 } from '../../src/outputs/crc16.ts'
import { encodePayload } from '../../src/outputs/encode-payload.ts'
import { decodeFrame, encodeFrame } from '../../src/outputs/frame-wire.ts'
import type { SerialFrame } from '../../src/outputs/serial-frame.ts'
import { dutyToTicks } from '../../src/tuning/duty-ticks.ts'
import { quantiseToTimer } from '../../src/tuning/timer.ts'
import { fromHex, toHex } from './hex.ts'
import { TIMER_16MHZ } from './rig-outputs.ts'

const A4 = 440 * 65536

const FRAMES: readonly (readonly [string, SerialFrame])[] = [
  ['hello', { type: 'hello', sequence: 0, version: 1 }],
  ['dark', { type: 'dark', sequence: 1 }],
  ['beat at one second', { type: 'beat', sequence: 2, micros: 1_000_000 }],
  ['beat at the last microsecond before wrapping', { type: 'beat', sequence: 255, micros: 0xffff_ffff }],
  ['set nothing', { type: 'set', sequence: 4, at: 0, lamps: [] }],
  [
    'set one lamp to 440 Hz, half on',
    { type: 'set', sequence: 3, at: 0, lamps: [{ slot: 0, rate: A4, duty: 0x8000 }] },
  ],
  [
    'set one dark, one lit',
    {
      type: 'set',
      sequence: 255,
      at: 0,
      lamps: [
        { slot: 1, rate: 0, duty: 0 },
        { slot: 0, rate: A4, duty: 0x8000 },
      ],
    },
  ],
  [
    'set later',
    {
      type: 'set',
      sequence: 5,
      at: 0x1234_5678,
      lamps: [{ slot: 254, rate: 0xffff_ffff, duty: 0xffff }],
    },
  ],
  [
    'set 35 lamps, the longest run without a zero',
    {
      type: 'set',
      sequence: 6,
      at: 0x0101_0101,
      lamps: Array.from({ length: 35 }, (_, slot) => ({ slot: slot + 1, rate: 0x0203_0405, duty: 0x0607 })),
    },
  ],
  [
    'set 36 lamps, over one run',
    {
      type: 'set',
      sequence: 7,
      at: 0x0101_0101,
      lamps: Array.from({ length: 36 }, (_, slot) => ({ slot: slot + 1, rate: 0x0203_0405, duty: 0x0607 })),
    },
  ],
  [
    'identity of eight lamps at 16 MHz',
    {
      type: 'identity',
      sequence: 0,
      version: 1,
      lamps: 8,
      clockHz: 16_000_000,
      bits: 16,
      prescalers: [1, 8, 64, 256, 1024],
    },
  ],
  [
    'identity of the reference box',
    {
      type: 'identity',
      sequence: 255,
      version: 1,
      lamps: 4,
      clockHz: 16_000_000,
      bits: 16,
      prescalers: [1, 8, 64, 256, 1024],
    },
  ],
  ['reply done', { type: 'reply', sequence: 1, answers: 3, status: 'done', micros: 0x1234_5678 }],
  ['reply refused', { type: 'reply', sequence: 2, answers: 4, status: 'refused', micros: 0 }],
  ['reply no such slot', { type: 'reply', sequence: 3, answers: 5, status: 'no-such-slot', micros: 1 }],
  ['reply late', { type: 'reply', sequence: 4, answers: 6, status: 'late', micros: 2 }],
]

const COBS = [
  '',
  '00',
  '112200 33',
  '11000000',
  run(1, 254),
  `00${run(1, 254)}`,
  run(1, 255),
  `${run(2, 255)}00`,
]
const CRC = ['', '313233343536373839', '00', 'ff', run(0, 255)]

/** Blocks (without their 00) that a reader must drop, by reason. */
const DAMAGED: readonly (readonly [string, string])[] = [
  ['cut short', '0302030101010201010103b801048074'],
  ['one bit of the duty wrong', '0302030101010201010103b80104817405'],
  ['code byte past the end', '05020304'],
  ['CRC high byte first', '02010401eb8d'],
  ['no room for a CRC', '0203'],
  ['unknown type 7F', sealed('7f00')],
  ['hello without a version', sealed('0101')],
  ['dark with a body', sealed('030000')],
  ['set that counts more lamps than it has', sealed('020000000000020000000000000000')],
  ['reply with status 4', sealed('82000004 00000000')],
]

const RATES = [27.5, 41.203445, 82.4069, 122.07, 244.140625, 261.625565, 440, 1000, 4186.009, 12543.853951]
const EDGES = [1, 2, 65_536, 16_000_000, 0x7fff_ffff, 0x8000_0000, 0xffff_ffff]
/** The last rate that a prescaler of 1, 8, 64, 256 and 1024 cannot make, and the first that it can. */
const PRESCALER_EDGES = [
  15_999_877, 15_999_878, 1_999_984, 1_999_985, 249_998, 249_999, 62_499, 62_500, 15_624, 15_625,
]
const DUTIES = [0, 1, 327, 1311, 6554, 16_384, 32_767, 32_768, 65_534, 65_535]

/** Everything that the program and the lamp box must agree on, as data: what `assets/firmware/vectors.json` holds. */
export function firmwareVectors() {
  return {
    about:
      'Bytes as hex. wire = COBS(payload + CRC low byte first) + 00. timers: rate = Hz x 65536, prescaler and top null where the timer cannot. duties: of 65535, ticks on of 1 + top.',
    cobs: COBS.map(fromHex).map((data) => ({ data: toHex(data), block: toHex(cobsEncode(data)) })),
    crc: CRC.map(fromHex).map((data) => ({ data: toHex(data), crc: crc16(data) })),
    frames: FRAMES.map(([name, frame]) => ({
      name,
      frame,
      payload: toHex(encodePayload(frame)),
      wire: toHex(encodeFrame(frame)),
    })),
    damaged: DAMAGED.map(([name, hex]) => ({ name, block: hex, damage: decodeFrame(fromHex(hex)) })),
    timer: TIMER_16MHZ,
    timers: [...EDGES, ...PRESCALER_EDGES, ...RATES.map((hz) => Math.round(hz * 65536))].map((rate) => {
      const drive = quantiseToTimer(rate / 65536, TIMER_16MHZ)?.drive
      return { rate, prescaler: drive?.prescaler ?? null, top: drive?.top ?? null }
    }),
    duties: [1, 243, 1275, 36_363, 65_535].flatMap((top) =>
      DUTIES.map((duty) => ({ duty, top, ticks: dutyToTicks(duty / 65535, top) })),
    ),
  }
}

function run(from: number, to: number): string {
  return toHex(Array.from({ length: to - from + 1 }, (_, at) => from + at))
}

/** A payload with its right CRC, stuffed: only what is in it is wrong. */
function sealed(payload: string): string {
  const data = fromHex(payload)
  const crc = crc16(data)
  return toHex(cobsEncode(Uint8Array.of(...data, crc & 0xff, crc >> 8)))
}
