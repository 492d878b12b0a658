import type { Claim, Part, Song } from '../../../src/domain/song.ts'
import { placeOf } from '../wording/figures.ts'
import { noteName } from '../wording/note-name.ts'

/** Whether a part takes lamps from others, in a line. */
export function claimWords({ claim }: Part): string {
  const priority = claim && claim.priority !== 0 ? `; priority ${claim.priority}`.replace('-', '\u2212') : ''
  return whenWords(claim) + priority
}

function whenWords(claim: Claim | undefined): string {
  switch (claim?.when) {
    case undefined:
      return 'claims nothing'
    case 'always':
      return 'claims its lamps always'
    case 'latched':
      return 'claims its lamps from its first note until all is made dark'
    case 'playing':
      return `claims its lamps while it plays, and ${claim.releaseMs} ms longer`
  }
}

/** The keys a part takes. */
export function rangeWords({ notes: [low, high], transpose }: Part): string {
  const keys =
    low === 0 && high === 127 ? 'all keys' : `keys ${noteName(low)} to ${noteName(high)} (${low} to ${high})`
  if (transpose === 0) return keys
  return `${keys}, ${Math.abs(transpose)} ${transpose > 0 ? 'up' : 'down'}`
}

/** Where a part's duty comes from. */
export function dutyWords({ duty }: Part): string {
  const way = `${duty.low} to ${duty.high}`
  if (duty.controller !== undefined) return `duty ${way} by controller ${duty.controller}`
  if (duty.velocity === true) return `duty ${way} by velocity`
  if (duty.keys) return `duty ${way} by key, ${noteName(duty.keys[0])} to ${noteName(duty.keys[1])}`
  if (duty.sweepSeconds !== undefined) return `duty ${way} and back in ${duty.sweepSeconds} s`
  return `duty ${duty.base}`
}

/** What a part is to a lamp. */
export interface LampUse {
  /** Its place in the part's order, from 0; -1: not used. */
  readonly place: number
  readonly count: number
  /** Other parts that may light it. */
  readonly sharedWith: readonly string[]
  /** Other parts that may take it from this one. */
  readonly takenBy: readonly string[]
  /** This part takes it from others. */
  readonly isClaimed: boolean
}

/** A part with a claim takes lamps from parts without one, and from claims of less priority; of equals, the one that has it keeps it. */
export function lampUse(song: Song, part: Part, lamp: string): LampUse {
  const others = song.parts.filter((other) => other !== part && other.lamps.includes(lamp))
  const place = part.lamps.indexOf(lamp)
  return {
    place,
    count: part.lamps.length,
    sharedWith: others.map(({ id }) => id),
    takenBy: others.filter((other) => mayTake(other, part)).map(({ id }) => id),
    isClaimed: place >= 0 && part.claim !== undefined,
  }
}

function mayTake({ claim }: Part, from: Part): boolean {
  return claim !== undefined && (from.claim === undefined || claim.priority > from.claim.priority)
}

/** "Fern, part lead: second of four, shared with low" */
export function cellWords(lampName: string, part: Part, use: LampUse): string {
  const start = `${lampName}, part ${part.id}`
  if (use.place < 0) return `${start}: not used`
  const takes = use.takenBy.length > 0 ? [`${use.takenBy.join(' and ')} may take it`] : []
  const shares = use.sharedWith.filter((other) => !use.takenBy.includes(other))
  return [
    `${start}: ${placeOf(use.place, use.count)}`,
    ...(use.isClaimed ? ['claimed'] : []),
    ...(shares.length > 0 ? [`shared with ${shares.join(' and ')}`] : []),
    ...takes,
  ].join(', ')
}
