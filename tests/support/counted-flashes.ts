import type { LampChange, LampState, Lit } from '../../src/domain/lamp-state.ts'

/**
 * Flashes counted the long way: every single pulse of every lamp is written out as a stretch of light, and all figures are counted on those by what they are said to be.
 * Shares no code with what it is compared with. Times are whole microseconds; an edge belongs to the nearest, half-way to the earlier.
 */

interface Moment {
  readonly at: number
  readonly changes: readonly LampChange[]
}

/** From the first microsecond to the one after the last. */
type Stretch = readonly [from: number, to: number]

const SECOND = 1_000_000
/** As it is cited: 3 to 30 Hz is of most concern, 60 Hz and more is seen as steady. */
const [LOW, HIGH, STEADY] = [3, 30, 60]

const nearest = (time: number): number => Math.ceil(time - 0.501)

/** Whether a box's timer begins a flash with it: for the next flash of a pulse, or where the flash it is in is changed. */
function beginsFlash(before: LampState, now: Lit): boolean {
  if (now.flash === undefined || now.drive.kind !== 'timer') return false
  if (!before.on || before.drive.kind !== 'timer') return true
  const same = before.flash === now.flash && before.drive.rate === now.drive.rate && before.duty === now.duty
  return !same
}

/** One lamp's pulses, one after the other, from how long each is on and how long until the next. */
class Pulses {
  readonly light: Stretch[] = []
  /** Where the period that it is in began, exactly. */
  #began = 0
  /** Since when it is lit, to the microsecond; undefined: dark now. */
  #lit: number | undefined
  #on = 0
  #period = 0
  #isSteady = false

  /** Everything that happens before `to`. */
  run(to: number): void {
    while (this.#period > 0) {
      const next = this.#began + (this.#lit === undefined ? this.#period : this.#on)
      if (nearest(next) >= to) return
      if (this.#lit === undefined) {
        this.#began = next
        this.#lit = nearest(next)
      } else this.#end(nearest(next))
    }
  }

  tell(at: number, before: LampState, state: LampState): void {
    this.run(at)
    if (!state.on) {
      this.#end(at)
      this.#period = 0
      this.#isSteady = false
      return
    }
    const on = (state.duty * SECOND) / state.realHz
    const own = state.drive.kind === 'timer' ? (state.drive.duty ?? state.duty) : state.duty
    const period = on / own
    // As near to 60 Hz as numbers go is 60 Hz.
    if (period <= SECOND / STEADY + 1e-9) {
      this.#lit ??= at
      this.#isSteady = true
      this.#period = 0
      return
    }
    if (this.#period === 0 || this.#isSteady || beginsFlash(before, state)) {
      this.#lit ??= at
      this.#began = at
    } else {
      // It goes on from where in its period it is, and no second pulse comes in that period.
      const done = (at - this.#began) / this.#period
      this.#began = at - done * period
      // Less on than it has been is over.
      if (at > this.#began + on) this.#end(at)
    }
    this.#isSteady = false
    this.#on = on
    this.#period = period
  }

  #end(at: number): void {
    if (this.#lit !== undefined) this.light.push([this.#lit, at])
    this.#lit = undefined
  }

  /** What is lit when all is over, for ever. */
  done(end: number): readonly Stretch[] {
    this.run(end)
    this.#end(Infinity)
    const joined: [number, number][] = []
    for (const [from, to] of this.light) {
      const last = joined.at(-1)
      if (last && last[1] >= from) last[1] = to
      else if (to > from) joined.push([from, to])
    }
    return joined
  }
}

function mostInASecond(times: readonly number[]): number {
  let most = 0
  for (let first = 0, last = 0; last < times.length; last++) {
    while (times[last]! - times[first]! >= SECOND) first++
    most = Math.max(most, last - first + 1)
  }
  return most
}

function covered(stretches: readonly Stretch[]): number {
  let [total, until] = [0, -Infinity]
  for (const [from, to] of stretches.toSorted((a, b) => a[0] - b[0])) {
    total += Math.max(0, to - Math.max(from, until))
    until = Math.max(until, to)
  }
  return total
}

/** How many stretches there are at one time, at most. */
function mostAtOnce(stretches: readonly Stretch[]): number {
  const steps = new Map<number, number>()
  for (const [from, to] of stretches) {
    steps.set(from, (steps.get(from) ?? 0) + 1)
    steps.set(to, (steps.get(to) ?? 0) - 1)
  }
  let [now, most] = [0, 0]
  for (const [, step] of [...steps].sort((a, b) => a[0] - b[0])) most = Math.max(most, (now += step))
  return most
}

/** The whole field as one light: when it flashed, and the most lamps in one flash. */
function fieldOf(lights: readonly (readonly Stretch[])[]): { times: number[]; lamps: number } {
  const edges = new Map<number, { up: number[]; down: number[] }>()
  const at = (time: number) => {
    const edge = edges.get(time) ?? { up: [], down: [] }
    edges.set(time, edge)
    return edge
  }
  lights.forEach((light, lamp) =>
    light.forEach(([from, to]) => {
      at(from).up.push(lamp)
      if (to < Infinity) at(to).down.push(lamp)
    }),
  )
  const times: number[] = []
  let risen = new Set<number>()
  let both = new Set<number>()
  let isUp = false
  let lamps = 0
  for (const [time, { up, down }] of [...edges].sort((a, b) => a[0] - b[0])) {
    if (down.length > 0 && isUp) times.push(time)
    if (down.length > 0) isUp = false
    for (const lamp of down) if (risen.has(lamp)) both.add(lamp)
    lamps = Math.max(lamps, both.size)
    if (up.length > 0 && !isUp) {
      risen = new Set()
      both = new Set()
      isUp = true
    }
    for (const lamp of up) risen.add(lamp)
  }
  return { times, lamps }
}

interface Told {
  readonly at: number
  readonly until: number
  readonly state: LampState
  readonly before: LampState
}

/** One lamp's changes, each with when the next comes. */
function toldTo(lamp: number, moments: readonly Moment[], end: number): Told[] {
  const own = moments.flatMap(({ at, changes }) =>
    changes.filter(({ index }) => index === lamp).map(({ state }) => ({ at, state })),
  )
  return own.map(({ at, state }, place) => ({
    at,
    state,
    until: own[place + 1]?.at ?? end,
    before: own[place - 1]?.state ?? { on: false },
  }))
}

/** When it flashes at such rates: lit at one, or its onsets that far apart. */
function flashing(told: readonly Told[], isIn: (hz: number) => boolean, gaps: Stretch): Stretch[] {
  const lit = told.flatMap(({ at, until, state }): Stretch[] =>
    state.on && isIn(state.realHz) ? [[at, until]] : [],
  )
  const onsets = told
    .filter(({ state, before }) => {
      if (!state.on) return false
      return !before.on || (before.glow !== true && beginsFlash(before, state))
    })
    .map(({ at }) => at)
  const gated = onsets.slice(1).flatMap((at, place): Stretch[] => {
    const gap = at - onsets[place]!
    return gap >= gaps[0] && gap <= gaps[1] ? [[onsets[place]!, at]] : []
  })
  return [...lit, ...gated]
}

function ratesOf(told: readonly Told[]) {
  const times = new Map<number, number>()
  for (const { at, until, state } of told) {
    if (!state.on || until === at) continue
    const twelfth = Math.round((12 * Math.log(state.realHz / 440)) / Math.LN2)
    times.set(twelfth, (times.get(twelfth) ?? 0) + until - at)
  }
  return [...times]
    .sort((a, b) => b[1] - a[1] || a[0] - b[0])
    .slice(0, 24)
    .map(([twelfth, time]) => ({ hz: decimals(440 * 2 ** (twelfth / 12), 4), seconds: time / SECOND }))
}

const decimals = (value: number, places: number): number => Number(value.toFixed(places))

export function countedFlashes(ids: readonly string[], moments: readonly Moment[], end: number) {
  const told = ids.map((_, lamp) => toldTo(lamp, moments, end))
  const lights = told.map((changes) => {
    const pulses = new Pulses()
    for (const { at, before, state } of changes) pulses.tell(at, before, state)
    return pulses.done(end)
  })
  const falls = lights.map((light) => light.map(([, to]) => to).filter((to) => to < Infinity))
  const field = fieldOf(lights)
  const concern = told.map((one) =>
    flashing(one, (hz) => hz >= LOW && hz <= HIGH, [Math.floor(SECOND / HIGH), Math.ceil(SECOND / LOW)]),
  )
  const seen = told.map((one) =>
    flashing(one, (hz) => hz < STEADY, [Math.floor(SECOND / STEADY) + 1, SECOND]),
  )
  const lit = told.map((one) =>
    one.flatMap(({ at, until, state }): Stretch[] => (state.on && until > at ? [[at, until]] : [])),
  )
  const most = mostAtOnce(lit.flat())
  return {
    perSecondMax: Math.max(mostInASecond(field.times), ...falls.map(mostInASecond)),
    bandSeconds: covered(concern.flat()) / SECOND,
    fieldPerSecondMax: mostInASecond(field.times),
    under60Seconds: covered(seen.flat()) / SECOND,
    litShareMax: decimals(most / ids.length, 4),
    flashShareMax: decimals(field.lamps / ids.length, 4),
    lamps: Object.fromEntries(
      ids.map((id, lamp) => [
        id,
        {
          perSecondMax: mostInASecond(falls[lamp]!),
          bandSeconds: covered(concern[lamp]!) / SECOND,
          under60Seconds: covered(seen[lamp]!) / SECOND,
          litSeconds: covered(lit[lamp]!) / SECOND,
          rates: ratesOf(told[lamp]!),
        },
      ]),
    ),
  }
}
