import type { LampState } from '../../src/domain/lamp-state.ts'
import { DARK } from '../../src/domain/lamp-state.ts'
import type { Lamp, MidiOutput, Output } from '../../src/domain/rig.ts'
import type { Show } from '../../src/domain/show.ts'
import type { Micros } from '../../src/domain/units.ts'
import type { TapEvent } from '../../src/graph/tap.ts'
import { LampBox } from './lamp-box.ts'
import { MidiLampBox } from './midi-lamp-box.ts'

type Box = LampBox | MidiLampBox

export interface Replayed {
  /** Moments at which every lamp was compared. */
  readonly moments: number
  /** Of them, those at which some lamp was lit. */
  readonly litMoments: number
  /** Comparisons of a lamp that was lit. */
  readonly litLamps: number
  /** Serial frames, per output. */
  readonly frames: ReadonlyMap<string, number>
  readonly end: readonly LampState[]
}

/**
 * Replays what left the graph into lamp boxes that see only the bytes, and compares, at the end of every moment, each lamp of theirs with the
 * frames on the tap. Throws at the first difference, with its time and lamp.
 */
export function replayLamps(show: Show, events: readonly TapEvent[]): Replayed {
  const { outputs, lamps } = show.rig
  const boxes = new Map<string, Box>(
    outputs.map((output) => [
      output.id,
      output.kind === 'serial' ? new LampBox(output.id) : new MidiLampBox(),
    ]),
  )
  const states: LampState[] = lamps.map(() => DARK)
  let moments = 0
  let litMoments = 0
  let litLamps = 0
  events.forEach((event, index) => {
    if (event.kind === 'bytes') boxes.get(event.output)?.take(event.bytes)
    if (event.kind === 'frame') for (const { index: lamp, state } of event.changes) states[lamp] = state
    const next = events[index + 1]
    if (next && next.at < event.at) throw new Error(`the tap went back from ${event.at} to ${next.at}`)
    if (next?.at === event.at) return
    moments++
    const lit = states.filter(({ on }) => on).length
    litLamps += lit
    if (lit > 0) litMoments++
    lamps.forEach((lamp, place) => {
      const output = outputs.find(({ id }) => id === lamp.output)
      if (output) compare(lamp, output, boxes.get(lamp.output), states[place] ?? DARK, event.at)
    })
  })
  const frames = [...boxes].flatMap(([id, box]) =>
    box instanceof LampBox ? [[id, whole(box)] as const] : [],
  )
  return { moments, litMoments, litLamps, frames: new Map(frames), end: states }
}

function whole(box: LampBox): number {
  if (box.unfinished > 0) throw new Error(`${box.unfinished} bytes of a frame that does not end`)
  return box.frames
}

function compare(lamp: Lamp, output: Output, box: Box | undefined, state: LampState, at: Micros): void {
  const difference =
    box instanceof LampBox
      ? onSerial(lamp, box, state)
      : box && output.kind === 'midi'
        ? onMidi(lamp, output, box, state)
        : 'no lamp box'
  if (difference !== undefined) throw new Error(`${lamp.id} at ${at / 1e6} s: ${difference}`)
}

function onSerial(lamp: Lamp, box: LampBox, state: LampState): string | undefined {
  const { rate, duty } = box.slot(lamp.slot)
  if (!state.on) return rate === 0 ? undefined : `the box has rate ${rate}, the tap says dark`
  if (state.drive.kind !== 'timer') return 'the tap has a key for a serial lamp'
  const wanted = Math.round(state.duty * 65535)
  if (rate === state.drive.rate && duty === wanted) return undefined
  return `the box has rate ${rate}, duty ${duty}, the tap ${state.drive.rate}, ${wanted}`
}

function onMidi(lamp: Lamp, output: MidiOutput, box: MidiLampBox, state: LampState): string | undefined {
  const channel = output.firstChannel + lamp.slot
  const hz = box.hz(channel)
  if (!state.on) return hz === undefined ? undefined : `the box has ${hz} Hz, the tap says dark`
  if (hz === undefined) return `the box is dark, the tap says ${state.realHz} Hz`
  if (Math.abs(hz / state.realHz - 1) > 1e-12) return `the box has ${hz} Hz, the tap ${state.realHz}`
  const { dutyController } = output
  if (dutyController === undefined) return undefined
  const duty = box.controller(channel, dutyController)
  const wanted = Math.round(state.duty * 127)
  return duty === wanted ? undefined : `the box has duty ${duty}, the tap ${wanted}`
}
