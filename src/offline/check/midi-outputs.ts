import type { MidiOutput } from '../../domain/rig.ts'
import type { Show } from '../../domain/show.ts'
import type { Cents, Channel } from '../../domain/units.ts'
import type { CheckFinding, FindingPlace } from './finding.ts'
import { placeAt } from './finding.ts'
import { lampChannels } from './lamp-channels.ts'
import { figure, listed } from './listed.ts'
import type { Survey } from './survey.ts'

/** Cents; steps above this are coarse: those of 24 semitones in 14 bits. */
const COARSE_STEP = (24 * 100) / 8192
/** What MIDI Polyphonic Expression 1.0 has members bend by, and all of a bend's bits: as fine as that standard is. */
const MPE_RANGE = 48
const ALL_BITS = 14

interface Placed {
  readonly output: MidiOutput
  readonly place: FindingPlace
  readonly channels: readonly Channel[]
}

/** MIDI outputs that get into each other's way, coarse bends, and thru into the lamps' channels. */
export function midiOutputFindings({ show }: Survey): CheckFinding[] {
  const outputs = show.rig.outputs.flatMap((output, index): Placed[] =>
    output.kind === 'midi'
      ? [
          {
            output,
            place: placeAt(['rig', 'outputs', index]),
            channels: lampChannels(output, show.rig.lamps),
          },
        ]
      : [],
  )
  return [...collisions(show, outputs), ...outputs.flatMap(coarseBend), ...thruFindings(show, outputs)]
}

function collisions({ rig }: Show, outputs: readonly Placed[]): CheckFinding[] {
  return outputs.flatMap((later, index) =>
    outputs.slice(0, index).flatMap((earlier): CheckFinding[] => {
      const common = later.channels.filter((channel) => earlier.channels.includes(channel))
      if (earlier.output.port !== later.output.port || common.length === 0) return []
      if (ownKeys(earlier.output, later.output, rig.lamps)) return []
      const message = `outputs ${earlier.output.id} and ${later.output.id} both speak to port "${later.output.port}" on ${channelsText(common)}: each undoes the other's notes and bends. Give them channels of their own, or make them one output.`
      return [{ gravity: 'warning', ...later.place, message }]
    }),
  )
}

/** Two outputs of fixed keys may share a channel as long as they share no key. */
function ownKeys(one: MidiOutput, other: MidiOutput, lamps: Show['rig']['lamps']): boolean {
  if (one.layout !== 'note-per-lamp' || other.layout !== 'note-per-lamp') return false
  const keysOf = (output: MidiOutput) =>
    lamps.filter((lamp) => lamp.output === output.id).map(({ slot }) => output.firstNote + slot)
  const keys = new Set(keysOf(one))
  return !keysOf(other).some((key) => keys.has(key))
}

/** MIDI 1.0 Detailed Specification: 14 bits for the whole range both ways; a receiver that goes by the upper `bendBits` has steps of range x 100 / 2^(bendBits - 1) cents. */
function coarseBend({ output, place, channels }: Placed): CheckFinding[] {
  const { layout, bendRange, bendBits } = output
  const step = stepOf(bendRange, bendBits)
  if (layout === 'note-per-lamp' || channels.length === 0 || step <= COARSE_STEP) return []
  if (layout === 'mpe' && bendRange <= MPE_RANGE && bendBits === ALL_BITS) return []
  const bits = bendBits === ALL_BITS ? '' : ` to a receiver that goes by ${bendBits} bits of a bend`
  const finer = bendRange > 2 ? ` A range of 2 has steps of ${figure(stepOf(2, bendBits), 3)}.` : ''
  const message = `a bend range of ${bendRange} semitones has steps of ${figure(step, 3)} cents${bits}, so a pitch may be ${figure(step / 2, 3)} cents off.${finer}`
  return [{ gravity: 'note', ...place, message }]
}

function stepOf(range: number, bits: number): Cents {
  return (range * 100) / 2 ** (bits - 1)
}

function thruFindings(show: Show, outputs: readonly Placed[]): CheckFinding[] {
  return show.thru.flatMap(({ player, to, pass, channel }, index) => {
    const port = outputs.find(({ output }) => output.id === to)?.output.port
    const kinds = pass.filter((kind) => kind !== 'clock')
    const sent =
      channel === undefined ? show.players.find(({ id }) => id === player)?.input.channels : [channel]
    const lamps = new Set(outputs.flatMap(({ output, channels }) => (output.port === port ? channels : [])))
    const hit = [...new Set(sent)].filter((one) => lamps.has(one)).sort((a, b) => a - b)
    if (kinds.length === 0 || hit.length === 0) return []
    const message = `what player ${player} sends (${listed(kinds)}) goes to output ${to} on ${channelsText(hit)}, where lamps are: it plays, bends or changes them past the allocator. Set "channel" to one that no lamp uses.`
    return [{ gravity: 'warning', ...placeAt(['thru', index]), message }]
  })
}

function channelsText(channels: readonly Channel[]): string {
  return `channel${channels.length === 1 ? '' : 's'} ${listed(channels.map(String), 16)}`
}
