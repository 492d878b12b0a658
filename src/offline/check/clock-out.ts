import type { MidiOutput } from '../../domain/rig.ts'
import type { Show } from '../../domain/show.ts'
import { nearMiss } from '../../show/near-miss.ts'
import { CLOCKS_A_BEAT } from '../../time/clock-count.ts'
import type { CheckFinding } from './finding.ts'
import { placeAt } from './finding.ts'
import { counted, figure } from './listed.ts'
import type { Survey } from './survey.ts'

/** MIDI 1.0 Detailed Specification, hardware: 31,250 baud, ten bits a byte. */
const BYTE_MS = 0.32
const MESSAGE_BYTES = 3

/** Ports that are sent a clock: what it costs where lamps hang on them too, a second clock on the same wire, and names that are not quite another's. */
export function clockOutFindings({ show }: Survey): CheckFinding[] {
  return show.clock.send.flatMap((port, index, all) => {
    const place = placeAt(['clock', 'send', index])
    if (all.indexOf(port) < index) {
      const message = `port "${port}" is listed twice; it is sent one clock.`
      return [{ gravity: 'note', ...place, message } satisfies CheckFinding]
    }
    return [
      ...wireCost(show, port),
      ...secondClock(show, port),
      ...serialPort(show, port),
      ...nearlyAnother(show, port),
    ].map(({ gravity, message }): CheckFinding => ({ gravity, ...place, message }))
  })
}

type Said = Pick<CheckFinding, 'gravity' | 'message'>

function midiOutputs({ rig }: Show, port: string): MidiOutput[] {
  return rig.outputs.filter((output) => output.kind === 'midi').filter((output) => output.port === port)
}

function wireCost(show: Show, port: string): Said[] {
  const outputs = midiOutputs(show, port)
  if (outputs.length === 0) return []
  const tempo = Math.max(...show.songs.map((song) => song.tempo))
  const share = ((tempo / 60) * CLOCKS_A_BEAT * BYTE_MS) / 10
  const lamps = outputs.map((output) => ({
    bytes: bytesALamp(output),
    count: show.rig.lamps.filter((lamp) => lamp.output === output.id).length,
  }))
  const count = lamps.reduce((sum, one) => sum + one.count, 0)
  const wait = lamps.reduce((sum, one) => sum + one.count * one.bytes, 0) * BYTE_MS
  const message = `lamps hang on port "${port}" too. At ${figure(tempo, 7)} beats a minute, the fastest song, the clock takes ${figure(share, 3)} % of a MIDI cable (31250 baud), and a clock that comes due while ${counted(count, 'lamp')} ${count === 1 ? 'is' : 'are'} struck anew may be ${figure(wait, 3)} ms late there. A port of its own has no such wait.`
  return [{ gravity: 'note', message }]
}

/** Off, bend, duty and on of a lamp that is struck anew; a lamp of a fixed key has no bend and no duty. */
function bytesALamp({ layout, dutyController }: MidiOutput): number {
  if (layout === 'note-per-lamp') return 2 * MESSAGE_BYTES
  return (dutyController === undefined ? 3 : 4) * MESSAGE_BYTES
}

function secondClock({ thru, rig }: Show, port: string): Said[] {
  return thru.flatMap(({ player, to, pass }): Said[] => {
    const output = rig.outputs.find(({ id }) => id === to)
    if (output?.port !== port || !pass.includes('clock')) return []
    const message = `port "${port}" gets a second clock: that of player ${player} is passed on to output ${to} there, and who follows counts both. Take "clock" out of "pass", or the port out of "clock.send".`
    return [{ gravity: 'warning', message }]
  })
}

function serialPort({ rig }: Show, port: string): Said[] {
  const output = rig.outputs.find((one) => one.kind === 'serial' && one.port === port)
  if (!output) return []
  const message = `"${port}" is the serial port of output ${output.id}, and a clock goes to MIDI ports only. Name a MIDI output.`
  return [{ gravity: 'warning', message }]
}

function nearlyAnother({ rig, clock }: Show, port: string): Said[] {
  const known = rig.outputs.flatMap((output) => (output.kind === 'midi' ? [output.port] : []))
  const others = [...known, ...clock.send.filter((one) => one !== port)]
  if (known.includes(port)) return []
  const meant = nearMiss(port, others)
  if (meant === undefined || meant === port) return []
  const message = `no output is on a port "${port}", and it is nearly "${meant}": if they are one device, give both the same name, since a port is opened once.`
  return [{ gravity: 'note', message }]
}
