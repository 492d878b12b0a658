import type { LampIndex } from '../domain/ids.ts'
import type { LampState } from '../domain/lamp-state.ts'
import { DARK } from '../domain/lamp-state.ts'
import type { Stage, Step, Wake } from '../domain/stage.ts'
import type { Micros } from '../domain/units.ts'
import type { Wish } from '../domain/wish.ts'

export interface HoldConfig {
  /** Per lamp: how long every change is held back, to line up with slower lamp boxes. */
  readonly delays: readonly Micros[]
}

export type HoldIn =
  | { readonly kind: 'wishes'; readonly wishes: readonly Wish[] }
  /** A song begins with these: what goes on from the song before is not held back. */
  | { readonly kind: 'begin'; readonly wishes: readonly Wish[] }
  /** Everything dark: what waits is dropped. */
  | { readonly kind: 'clear' }
  | Wake

export interface HoldOut {
  readonly kind: 'wishes'
  readonly wishes: readonly Wish[]
}

interface Waiting {
  readonly due: Micros
  readonly state: LampState
}

interface LampQueue {
  /** In order of time. */
  readonly waiting: readonly Waiting[]
  /** Since when the lamp is lit, or from when it will be, once all that waits has gone; null: it is dark then. */
  readonly litAt: Micros | null
  /** When it goes, or went, from lit to dark for the last time. */
  readonly darkAt: Micros
}

export interface HoldState {
  readonly delays: readonly Micros[]
  readonly queues: readonly LampQueue[]
  /** Lamps with something waiting. */
  readonly busy: readonly LampIndex[]
}

const IDLE: LampQueue = { waiting: [], litAt: null, darkAt: -1e15 }

/** Holds changes back: every one by its lamp's delay, and a strike on a lit lamp by its gap, with the lamp dark meanwhile. */
export const hold: Stage<HoldConfig, HoldState, HoldIn, HoldOut> = {
  name: 'hold',
  start: ({ delays }) => ({ delays, queues: delays.map(() => IDLE), busy: [] }),
  step(state, event, now): Step<HoldState, HoldOut> {
    if (event.kind === 'clear')
      return { state: { ...state, queues: state.queues.map(() => IDLE), busy: [] }, out: [] }
    const queues = state.queues.slice()
    const touched = new Set(state.busy)
    const gaps = new Map<LampIndex, Micros>()
    if (event.kind !== 'wake') {
      for (const wish of event.wishes) {
        const goesOn = event.kind === 'begin' && wish.state.on && !wish.state.strike
        const delay = goesOn ? 0 : (state.delays[wish.lamp] ?? 0)
        queues[wish.lamp] = enqueue(queues[wish.lamp] ?? IDLE, wish, now + delay)
        touched.add(wish.lamp)
        gaps.set(wish.lamp, wish.gap)
      }
    }
    const wishes: Wish[] = []
    const busy: LampIndex[] = []
    let wake = Infinity
    for (const lamp of touched) {
      const queue = queues[lamp] ?? IDLE
      const due = queue.waiting.findLast((one) => one.due <= now)
      if (due) wishes.push({ lamp, state: due.state, gap: gaps.get(lamp) ?? 0 })
      const waiting = due ? queue.waiting.filter((one) => one.due > now) : queue.waiting
      if (due) queues[lamp] = { ...queue, waiting }
      if (waiting[0]) {
        busy.push(lamp)
        wake = Math.min(wake, waiting[0].due)
      }
    }
    return {
      state: { ...state, queues, busy },
      out: wishes.length > 0 ? [{ kind: 'wishes', wishes }] : [],
      wake: wake === Infinity ? undefined : wake,
    }
  },
}

function enqueue(queue: LampQueue, { state, gap }: Wish, at: Micros): LampQueue {
  if (!state.on) return darkAt(queue, at)
  const last = queue.waiting.at(-1)
  if (!state.strike) {
    // A change of a voice still held back joins it there, and a strike stays one.
    if (last && last.state.on && last.due >= at) {
      const joined = { due: last.due, state: { ...state, strike: last.state.strike } }
      return { ...queue, waiting: [...queue.waiting.slice(0, -1), joined] }
    }
    return lightAt(queue, state, at)
  }
  // A strike that still waits for its gap gives way to this one, which waits for the rest of it: else a roll faster than the gap would never light.
  const isInGap = last !== undefined && last.state.on && last.due > at
  const open = isInGap ? { ...queue, waiting: queue.waiting.slice(0, -1), litAt: null } : queue
  if (gap === 0) return lightAt(open, state, at)
  const isLit = isLitBefore(open, at) || (open.litAt !== null && open.darkAt + gap > at)
  const darkened = isLit ? darkAt(open, at) : open
  return lightAt(darkened, state, Math.max(at, darkened.darkAt + gap))
}

/** A lamp lit at this very time, or after it, has not shone yet: nothing there to part from a new strike. */
function isLitBefore({ litAt }: LampQueue, at: Micros): boolean {
  return litAt !== null && litAt < at
}

function lightAt(queue: LampQueue, state: LampState, due: Micros): LampQueue {
  const waiting = [...queue.waiting.filter((one) => one.due < due), { due, state }]
  return { ...queue, waiting, litAt: Math.min(queue.litAt ?? due, due) }
}

/** Dark from `at` on: what was to come later never does. */
function darkAt(queue: LampQueue, at: Micros): LampQueue {
  const before = queue.waiting.filter((one) => one.due < at)
  const waiting = [...before, { due: at, state: DARK }]
  return { waiting, litAt: null, darkAt: isLitBefore(queue, at) ? at : queue.darkAt }
}
