import type { Duty } from '../../domain/units.ts'

/**
 * One lamp's light over time: on for `duty` of each period, off for the rest. Times are in one unit of the
 * caller's choice (samples, microseconds). Kept as plain numbers and changed in place: there are millions of edges.
 */
export interface PulseTrain {
  /** Light now: 1 or 0 while pulsing, the duty while steady, 0 while dark. */
  level: number
  /** Time of the next edge; Infinity when there is none. */
  next: number
  /** 0 when not pulsing. */
  period: number
  duty: Duty
  /** Pulse k starts at anchor + k * period: nothing is added up edge by edge, so nothing drifts. */
  anchor: number
  cycle: number
}

export function darkTrain(): PulseTrain {
  return { level: 0, next: Infinity, period: 0, duty: 0, anchor: 0, cycle: 0 }
}

/** Steps over the edge at `train.next`. */
export function passEdge(train: PulseTrain): void {
  if (train.level === 1) {
    train.level = 0
    train.next = train.anchor + (train.cycle + 1) * train.period
  } else {
    train.level = 1
    train.cycle += 1
    train.next = train.anchor + (train.cycle + train.duty) * train.period
  }
}

/** No light from now on. */
export function darken(train: PulseTrain): void {
  train.level = 0
  train.next = Infinity
  train.period = 0
}

/** As `lightTrain`, but a period begins at `at`, whatever the train was in: its light comes on, or stays on from there. */
export function beginTrain(
  train: PulseTrain,
  at: number,
  period: number,
  duty: Duty,
  steadyPeriod: number,
): void {
  train.period = 0
  lightTrain(train, at, period, duty, steadyPeriod)
}

/**
 * Lights the train, or changes it while lit; edges before `at` must have been passed. A train that was dark or steady
 * starts with its on part. One that pulses keeps its phase; its light comes on only at the start of a period, so a
 * wider duty met in the off part waits for the next pulse and no period has two. Periods of `steadyPeriod` or less
 * are too quick for whoever looks: they, and duties of 0 and 1, are steady light at the height of the duty.
 */
export function lightTrain(
  train: PulseTrain,
  at: number,
  period: number,
  duty: Duty,
  steadyPeriod: number,
): void {
  if (period <= steadyPeriod || duty <= 0 || duty >= 1) {
    train.level = Math.min(1, Math.max(0, duty))
    train.next = Infinity
    train.period = 0
    return
  }
  if (train.period === 0) {
    train.level = 1
    train.anchor = at
    train.next = at + duty * period
  } else {
    const phase = (at - train.anchor) / train.period - train.cycle
    train.anchor = at - phase * period
    const next = train.anchor + (train.level === 1 ? duty : 1) * period
    train.next = Math.max(at, next)
  }
  train.cycle = 0
  train.period = period
  train.duty = duty
}
