import type { Beats, Bpm, Micros } from '../domain/units.ts'
import { beatsToMicros } from './beats.ts'

/**
 * Time of the first point of a grid of `every` beats that is not before `at`, in a song that began at `began`. Each point is rounded by itself, so that nothing
 * adds up.
 */
export function nextOnGrid(began: Micros, tempo: Bpm, every: Beats, at: Micros): Micros {
  const point = (count: number): Micros => began + Math.round(beatsToMicros(count * every, tempo))
  let count = Math.max(0, Math.floor((at - began) / beatsToMicros(every, tempo)) - 1)
  while (point(count) < at) count++
  return point(count)
}
