import type { SerialOutput } from '../../domain/rig.ts'
import { encodeFrame } from '../../outputs/frame-wire.ts'
import { MAX_LAMPS_A_SET } from '../../outputs/serial-frame.ts'
import type { CheckFinding, FindingPlace } from './finding.ts'
import { placeAt } from './finding.ts'
import { grouped } from './grouped.ts'
import { counted, figure, listed } from './listed.ts'
import type { Survey } from './survey.ts'
import { nearestAvrBaud } from './uart-baud.ts'

/** Start, eight, stop. */
const BITS_A_BYTE = 10
/** What feels immediate (common practice, no source). */
const IMMEDIATE_MS = 10
/** How far off a rate may be (ATmega640/1280/2560 data sheet, USART: about 2 % for eight bits). */
const BAUD_TOLERANCE = 0.02
/** The AVR data sheets end here; a faster clock is another kind of part, whose UART divides otherwise. */
const AVR_MAX_HZ = 20e6

/** Serial lines that are slow, off their rate, or opened twice. */
export function serialOutputFindings({ show: { rig } }: Survey): CheckFinding[] {
  const serial = rig.outputs.flatMap((output, index) =>
    output.kind === 'serial' ? [{ output, place: placeAt(['rig', 'outputs', index]) }] : [],
  )
  return [
    ...[...grouped(serial, ({ output }) => output.port)].flatMap(([port, group]): CheckFinding[] => {
      if (group.length < 2) return []
      const ids = listed(group.map(({ output }) => output.id))
      const message = `outputs ${ids} are the same serial port "${port}", which can be opened once only. Make them one output.`
      return [{ gravity: 'warning', ...placeAt(['rig', 'outputs']), message }]
    }),
    ...serial.flatMap(({ output, place }) => {
      const lamps = rig.lamps.filter((lamp) => lamp.output === output.id).length
      return [...slowLine(output, place, lamps), ...offBaud(output, place)]
    }),
  ]
}

function slowLine({ baud }: SerialOutput, place: FindingPlace, lamps: number): CheckFinding[] {
  const bytes = fullStateBytes(lamps)
  const ms = (bytes * BITS_A_BYTE * 1000) / baud
  if (ms <= IMMEDIATE_MS) return []
  const enough = Math.ceil((bytes * BITS_A_BYTE * 1000) / IMMEDIATE_MS)
  const message = `the full state of ${counted(lamps, 'lamp')} is ${bytes} bytes, ${figure(ms, 3)} ms on the wire at ${baud} baud; under ${IMMEDIATE_MS} ms feels immediate (common practice), which takes ${enough} baud or more.`
  return [{ gravity: 'note', ...place, message }]
}

/** Bytes of the set frames that carry every lamp of an output. */
function fullStateBytes(lamps: number): number {
  const rest = lamps % MAX_LAMPS_A_SET
  return Math.floor(lamps / MAX_LAMPS_A_SET) * setBytes(MAX_LAMPS_A_SET) + (rest > 0 ? setBytes(rest) : 0)
}

function setBytes(lamps: number): number {
  const settings = Array.from({ length: lamps }, (_, slot) => ({ slot, rate: 1, duty: 1 }))
  return encodeFrame({ type: 'set', sequence: 0, at: 0, lamps: settings }).length
}

function offBaud({ baud, timer: { clockHz } }: SerialOutput, place: FindingPlace): CheckFinding[] {
  if (clockHz > AVR_MAX_HZ) return []
  const made = nearestAvrBaud(baud, clockHz)
  const off = made / baud - 1
  if (Math.abs(off) <= BAUD_TOLERANCE) return []
  const exact = nearestAvrBaud(500_000, clockHz) === 500_000 ? ' 500000 is exact at that clock.' : ''
  const message = `${baud} baud comes out as ${figure(made, 6)} on an AVR lamp box at ${figure(clockHz / 1e6)} MHz, ${off > 0 ? '+' : ''}${(off * 100).toFixed(1)} %, and over 2 % bytes get lost (ATmega640/1280/2560 data sheet: baud = clock / (8 x (UBRR + 1)), double speed).${exact} Another kind of box may do better.`
  return [{ gravity: 'note', ...place, message }]
}
