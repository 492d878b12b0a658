import type { Seed } from '../domain/random.ts'
import { nextRandom } from '../domain/random.ts'

/** The ways a voice may go over the lamps. */
export const WAYS = ['forward', 'backward', 'pendulum', 'inward', 'outward', 'shuffle'] as const
export type Way = (typeof WAYS)[number]

/** One round of a way over `count` lamps, as lamp places; a round is gone through again and again. */
export function roundOf(way: Exclude<Way, 'shuffle'>, count: number): number[] {
  const forward = Array.from({ length: count }, (_, index) => index)
  switch (way) {
    case 'forward':
      return forward
    case 'backward':
      return forward.reverse()
    case 'pendulum':
      // Neither end twice: 0 1 2 3 2 1 and again.
      return [...forward, ...forward.slice(1, -1).reverse()]
    case 'inward':
      return fromOutside(count)
    case 'outward':
      return fromOutside(count).reverse()
  }
}

/** First, last, second, last but one, and so on to the middle. */
function fromOutside(count: number): number[] {
  return Array.from({ length: count }, (_, step) => (step % 2 === 0 ? step / 2 : count - (step + 1) / 2))
}

/** A round in random order (Fisher-Yates) that does not begin where the one before ended. */
export function shuffledRound(
  count: number,
  last: number | undefined,
  seed: Seed,
): { round: number[]; seed: Seed } {
  const round = Array.from({ length: count }, (_, index) => index)
  let now = seed
  for (let index = count - 1; index > 0; index--) {
    const drawn = nextRandom(now)
    now = drawn.seed
    const other = Math.floor(drawn.value * (index + 1))
    const kept = round[index] as number
    round[index] = round[other] as number
    round[other] = kept
  }
  if (count > 1 && round[0] === last) round.push(round.shift() as number)
  return { round, seed: now }
}
