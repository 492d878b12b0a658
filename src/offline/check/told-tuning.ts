import type { TuningId } from '../../domain/ids.ts'
import type { MidiOutput, MtsOut } from '../../domain/rig.ts'
import type { Show } from '../../domain/show.ts'
import { tellTuning } from '../../midi/mts-tell.ts'
import { hzToWord } from '../../midi/mts-word.ts'
import { knownTuning, tuningTable } from '../../tuning/tuning.ts'
import type { CheckFinding } from './finding.ts'
import { placeAt } from './finding.ts'
import { counted, figure, listed } from './listed.ts'
import type { Survey } from './survey.ts'

/** MIDI 1.0 Detailed Specification, hardware: 31,250 baud, ten bits a byte. */
const BYTE_MS = 0.32
/** F0 and F7. */
const ENDS = 2
/** Between messages the cable rests as long as each took. */
const REST = 2

type Said = Pick<CheckFinding, 'gravity' | 'message'>

/** MIDI outputs that are told the song's tuning: what it costs on the cable, and tunings that their form cannot say, or not all of. */
export function toldTuningFindings({ show }: Survey): CheckFinding[] {
  const used = tuningsUsed(show)
  return show.rig.outputs.flatMap((output, index): CheckFinding[] => {
    if (output.kind !== 'midi' || !output.mts) return []
    const { mts } = output
    const place = placeAt(['rig', 'outputs', index, 'mts'])
    const said = [
      ...used.flatMap((id) => unsaid(show, mts, id)),
      ...cost(show, output, mts, used),
      ...twice(show, output),
    ]
    return said.map(({ gravity, message }): CheckFinding => ({ gravity, ...place, message }))
  })
}

/** Of songs, and what controls choose. */
function tuningsUsed({ songs, switching }: Show): TuningId[] {
  const chosen = switching.controls.flatMap(({ do: act }) =>
    typeof act === 'object' && 'tuning' in act ? [act.tuning] : [],
  )
  return [...new Set([...songs.map(({ tuning }) => tuning), ...chosen])]
}

function hzOf(show: Show, id: TuningId) {
  const tuning = knownTuning(show.tunings, id)
  return tuning && tuningTable(tuning)
}

function unsaid(show: Show, mts: MtsOut, id: TuningId): Said[] {
  const hz = hzOf(show, id)
  if (!hz) return []
  const { why } = tellTuning(mts, { name: id, hz })
  if (why !== null) {
    const message = `tuning ${id} cannot be told there: ${why}. Nothing is sent while a song is in it, and who listens stays as it was. The forms "keys" and "bulk" can say it.`
    return [{ gravity: 'warning', message }]
  }
  if (mts.form !== 'keys' && mts.form !== 'bulk') return []
  const without = hz.flatMap((one, key) => (one === undefined || hzToWord(one) === undefined ? [key] : []))
  if (without.length === 0) return []
  const message = `tuning ${id} has ${counted(without.length, 'key')} without a pitch, or with one that the standard has no number for (under 8.176 or over 13290 Hz): ${listed(without.map(String), 8)}. Who listens leaves them as they were.`
  return [{ gravity: 'note', message }]
}

function cost(show: Show, output: MidiOutput, mts: MtsOut, used: readonly TuningId[]): Said[] {
  const told = used
    .flatMap((id) => {
      const hz = hzOf(show, id)
      return hz ? [tellTuning(mts, { name: id, hz })] : []
    })
    .find(({ messages }) => messages.length > 0)
  if (!told) return []
  const bytes = told.messages.map((data) => data.length + ENDS)
  const longest = Math.max(...bytes) * BYTE_MS
  const all = bytes.reduce((sum, one) => sum + one, 0)
  const pieces =
    bytes.length === 1
      ? `${all} bytes in one message`
      : `${all} bytes in ${bytes.length} messages, over ${figure((all * BYTE_MS * REST) / 1000, 2)} s`
  const lamps = show.rig.lamps.filter((lamp) => portOf(show, lamp.output) === output.port).length
  const wait =
    lamps === 0
      ? 'No lamp hangs on that port.'
      : `It goes after the song's first lamps; ${counted(lamps, 'lamp')} on that port may wait ${figure(longest, 3)} ms for it.`
  const remedy =
    lamps > 0 && mts.form === 'bulk'
      ? ' The form "keys" goes in pieces of 12.8 ms; a port of its own has no such wait.'
      : ''
  const message = `telling a tuning there takes ${pieces}; a message is up to ${figure(longest, 3)} ms on a MIDI cable (31250 baud). ${wait}${remedy}`
  return [{ gravity: lamps > 0 && mts.form === 'bulk' ? 'warning' : 'note', message }]
}

/** Lamps are played by key and bend from equal steps. */
function twice({ rig }: Show, { id }: MidiOutput): Said[] {
  if (!rig.lamps.some((lamp) => lamp.output === id)) return []
  const message = `lamps hang on output ${id} itself, and are given their pitch by keys of equal steps and bends: a lamp box that goes by tuning messages as well would be out of tune. Turn that off in the box, or tell the tuning to an output of its own.`
  return [{ gravity: 'note', message }]
}

/** Undefined: a serial port, which shares no cable. */
function portOf({ rig }: Show, id: string): string | undefined {
  const output = rig.outputs.find((one) => one.id === id)
  return output?.kind === 'midi' ? output.port : undefined
}
