import type { Intent, Voice } from '../domain/intent.ts'
import type { StruckStep } from '../domain/pattern.ts'
import { nextRandom } from '../domain/random.ts'
import type { Beats, Micros } from '../domain/units.ts'
import { MICROS_PER_MS } from '../domain/units.ts'
import { beatsToMicros } from '../time/beats.ts'
import type { Strike, Until } from './steps-lamps.ts'
import { strikeLamps } from './steps-lamps.ts'
import type { ReadyPattern } from './steps-ready.ts'
import type { Late, StepsState } from './steps-state.ts'
import { patternOf, showing, stepAt } from './steps-state.ts'
import type { LampView, StrategyStep } from './strategy.ts'

/** Hits further apart, or closer, count as these: a pause is no tempo, and a flam is none either. */
const LONGEST_SPAN: Micros = 2_000 * MICROS_PER_MS
const SHORTEST_SPAN: Micros = 20 * MICROS_PER_MS

/** What moves the rows: a hit, or the clock at its division `tick`, counted from 0 where it was started. */
export type Mover = 'hit' | { readonly tick: number }

/** Every row one step on, or back, and what it finds there. */
export function moveRows(
  state: StepsState,
  by: 1 | -1,
  mover: Mover,
  view: LampView,
  now: Micros,
): StrategyStep<StepsState> {
  const pattern = patternOf(state)
  const place = state.place === null ? Math.min(0, by) : state.place + by
  const strikes: Strike[] = []
  const late: Late[] = []
  let { seed } = state
  let hasStruck = false
  pattern.rows.forEach((row, index) => {
    const step = row.steps[stepAt(place + (state.offsets[index] ?? 0), row.steps.length)] ?? 0
    if (step === 0) return
    if (step.chance !== undefined && step.chance < 1) {
      const drawn = nextRandom(seed)
      // Drawn for muted rows too: that one is silent changes nobody else's luck.
      seed = drawn.seed
      if (drawn.value >= step.chance) return
    }
    if (row.lamp < 0 || state.muted[state.current]?.[index]) return
    hasStruck = true
    const voice = stepVoice(state, pattern, step)
    const gate = step.gate ?? pattern.gate
    if (mover === 'hit') {
      const until = { at: now + hitGate(state, pattern, gate, view) }
      strikes.push({ lamp: row.lamp, row: index, voice, until })
      return
    }
    const swung = mover.tick % 2 === 1 ? row.swing : 0
    const until: Until = { beat: (mover.tick + swung + gate) * pattern.division }
    const strike = { lamp: row.lamp, row: index, voice, until }
    if (swung > 0) late.push({ ...strike, beat: (mover.tick + swung) * pattern.division })
    else strikes.push(strike)
  })
  const struck = { ...state, place, seed, accent: state.accent && !hasStruck, late: [...state.late, ...late] }
  return strike(showing(struck), strikes, view)
}

/** A pad's own note on the same lamp is over: what struck last has it. */
export function strike(
  state: StepsState,
  strikes: readonly Strike[],
  view: LampView,
): { state: StepsState; intents: readonly Intent[] } {
  if (strikes.length === 0) return { state, intents: [] }
  const { lamps, intents } = strikeLamps(state.lamps, strikes, view)
  const own = state.own.filter(({ lamp }) => !strikes.some((one) => one.until !== null && one.lamp === lamp))
  return { state: { ...state, lamps, own }, intents }
}

/** The time between the last two hits, within bounds, once there were two. */
export function measured(state: StepsState, now: Micros): StepsState {
  if (state.hitAt === null) return { ...state, hitAt: now }
  const span = Math.min(LONGEST_SPAN, Math.max(SHORTEST_SPAN, now - state.hitAt))
  return { ...state, hitAt: now, span }
}

function hitGate(state: StepsState, pattern: ReadyPattern, gate: number, { tempo }: LampView): Micros {
  if (pattern.hitGate !== null) return pattern.hitGate
  const span = state.span ?? beatsToMicros(pattern.division as Beats, tempo)
  return Math.max(1, Math.round(gate * span))
}

function stepVoice({ hit, accent, ready }: StepsState, pattern: ReadyPattern, step: StruckStep): Voice {
  const isAccented = accent || step.accent === true
  const times = isAccented ? pattern.accentTimes : 1
  const duty = step.duty ?? hit.duty ?? (isAccented ? ready.duty : null)
  return {
    note: hit.id,
    key: step.note,
    channel: hit.channel,
    velocity: Math.min(127, Math.round(hit.velocity * times)),
    ratio: 1,
    cents: 0,
    ...(duty === null ? {} : { duty: Math.min(1, duty * times) }),
  }
}
