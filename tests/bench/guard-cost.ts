import { GuardAccount } from '../../app/engine/guard-account.ts'
import type { FlashGuard } from '../../src/domain/flash-guard.ts'
import { nextRandom } from '../../src/domain/random.ts'
import type { Rig } from '../../src/domain/rig.ts'
import type { Show } from '../../src/domain/show.ts'
import type { Stage } from '../../src/domain/stage.ts'
import type { Micros } from '../../src/domain/units.ts'
import { Graph } from '../../src/graph/graph.ts'
import type { TapEvent } from '../../src/graph/tap.ts'
import { flashGuard } from '../../src/guards/flash.ts'
import { lampHeat } from '../../src/guards/lamp-heat.ts'
import { supplyGuard } from '../../src/guards/supply.ts'
import { benchShow } from './bench-show.ts'

export interface GuardCost {
  readonly guard: FlashGuard['action']
  readonly lamps: number
  /** A note event through the whole graph, in the mean. */
  readonly eventMicros: number
  /** Of that in the guards' stages. */
  readonly guardMicros: number
  /** Besides, once lamps are told: what an eye could see, and what supplies give, as it is counted live. */
  readonly countMicros: number
  /** Of all of it. */
  readonly share: number
}

const WARM = 10_000
const MEASURED = 20_000
const ROUNDS = 9
/** Events whose calls are made again, and how often: few, so that what they go by is as near as it is live. */
const RECORDED = 400
const AGAIN = 50
/** Ten notes a second and more: the field changes as often as a limit minds. */
const SPACING: Micros = 40_000

/** One call of a stage, to be made again: stages are pure. */
type Call = () => unknown

/** What the guards cost of one note event. They are timed by doing all they did once more, so that the clock's own time is in neither figure. */
export function guardCost(lamps: number, guard: FlashGuard): GuardCost {
  playThrough(lamps, guard, WARM)
  const calls: Call[] = []
  const undo = [flashGuard, supplyGuard, lampHeat].map((stage) => record(stage as AnyStage, calls))
  const frames: TapEvent[] = []
  playThrough(lamps, guard, RECORDED, (event) => {
    if (event.kind === 'frame') frames.push(event)
  })
  for (const one of undo) one()
  const { rig } = guardedShow(lamps, guard)
  again(calls)
  const rounds = Array.from({ length: ROUNDS }, () => ({
    guards: processorTime(() => again(calls)) / (RECORDED * AGAIN),
    count: processorTime(() => countAgain(rig, frames)) / (RECORDED * AGAIN),
    event: processorTime(() => playThrough(lamps, guard, MEASURED)) / MEASURED,
  }))
  const guardMicros = median(rounds.map(({ guards }) => guards))
  const countMicros = median(rounds.map(({ count }) => count))
  const eventMicros = median(rounds.map(({ event }) => event))
  return {
    guard: guard.action,
    lamps,
    eventMicros: rounded(eventMicros),
    guardMicros: rounded(guardMicros),
    countMicros: rounded(countMicros),
    share: rounded((guardMicros + countMicros) / (eventMicros + countMicros)),
  }
}

/** Microseconds of this process's own, so that others on a busy machine are not in them. */
function processorTime(work: () => void): Micros {
  const began = process.cpuUsage()
  work()
  const { user, system } = process.cpuUsage(began)
  return user + system
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0
}

function countAgain(rig: Rig, frames: readonly TapEvent[]): void {
  for (let time = 0; time < AGAIN; time++) {
    const account = new GuardAccount(rig, 0)
    for (const frame of frames) account.watch(frame)
  }
}

function again(calls: readonly Call[]): void {
  for (let time = 0; time < AGAIN; time++) for (const call of calls) call()
}

type AnyStage = {
  -readonly [Key in keyof Stage<unknown, unknown, unknown, unknown>]: Stage<
    unknown,
    unknown,
    unknown,
    unknown
  >[Key]
}

function record(stage: AnyStage, calls: Call[]): () => void {
  const { step } = stage
  stage.step = (state, event, now) => {
    calls.push(() => step(state, event, now))
    return step(state, event, now)
  }
  return () => {
    stage.step = step
  }
}

function playThrough(
  lamps: number,
  guard: FlashGuard,
  events: number,
  watch: (event: TapEvent) => void = () => {},
): void {
  const graph = new Graph({ show: guardedShow(lamps, guard), song: 'song' })
  graph.tap$.subscribe(watch)
  graph.open()
  const held: number[] = []
  const most = Math.min(10, lamps)
  let seed = 1
  for (let index = 0; index < events; index++) {
    const drawn = nextRandom(seed)
    seed = drawn.seed
    const isOff = held.length >= most || (held.length > 0 && drawn.value < 0.45)
    const key = isOff ? (held.shift() as number) : 36 + Math.floor(drawn.value * 60)
    if (!isOff) held.push(key)
    const at = (index + 1) * SPACING
    graph.play('keys', Uint8Array.of(isOff ? 0x80 : 0x90, key, 100), at)
    graph.advance(at)
  }
}

/** Every lamp has a limit of heat as well, so that each guard has something to do. */
function guardedShow(lamps: number, flash: FlashGuard): Show {
  const show = benchShow(lamps, { kind: 'lowest-free' })
  const heated = show.rig.lamps.map((lamp) => ({ ...lamp, heat: { meanWatts: 4, seconds: 10 } }))
  return { ...show, rig: { ...show.rig, lamps: heated }, guards: { ...show.guards, flash } }
}

function rounded(value: number): number {
  return Math.round(value * 1000) / 1000
}
