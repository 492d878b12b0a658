import { parseMidi } from 'midi-file'
import { performanceBytes } from './performances.ts'

/** A hit as it was played, `at` in microseconds with their fraction. */
export interface Hit {
  readonly at: number
  readonly key: number
  readonly velocity: number
}

/** Every hit of a file as the package midi-file reads it, in microseconds. */
export function hitsOf(path: string): Hit[] {
  const { header, tracks } = parseMidi(performanceBytes(path))
  const { ticksPerBeat } = header
  if (ticksPerBeat === undefined) throw new Error(`${path} counts no ticks`)
  const events = tracks.flatMap((track) => {
    let tick = 0
    return track.map((event) => ({ tick: (tick += event.deltaTime), event }))
  })
  let beatMicros = 500_000
  let [tick, at] = [0, 0]
  return events
    .toSorted((a, b) => a.tick - b.tick)
    .flatMap((one) => {
      at += ((one.tick - tick) * beatMicros) / ticksPerBeat
      tick = one.tick
      const { event } = one
      if (event.type === 'setTempo') beatMicros = event.microsecondsPerBeat
      if (event.type !== 'noteOn' || event.channel !== 9 || event.velocity === 0) return []
      return [{ at, key: event.noteNumber, velocity: event.velocity }]
    })
}

/** Of hits at these times, how many are left where one that comes sooner than `mask` after the last one left is taken out. */
export function countApart(hits: readonly Hit[], mask: number): number {
  let left = 0
  let next = -Infinity
  for (const { at } of hits) {
    if (at < next) continue
    left++
    next = at + mask
  }
  return left
}
