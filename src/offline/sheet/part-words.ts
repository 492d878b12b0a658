import type { Claim, Part } from '../../domain/song.ts'
import { keyName } from '../check/key-spans.ts'

/** The keys a part takes, as they are played. */
export function keysWords({ notes: [low, high] }: Part): string {
  if (low === 0 && high === 127) return 'all'
  if (low === high) return keyName(low)
  if (low === 0) return `up to ${keyName(high)}`
  return high === 127 ? `from ${keyName(low)} up` : `${keyName(low)} to ${keyName(high)}`
}

/** "12 down" */
export function transposeWords({ transpose }: Part): string {
  if (transpose === 0) return 'none'
  return `${Math.abs(transpose)} ${transpose > 0 ? 'up' : 'down'}`
}

export function dutyWords({ duty }: Part): string {
  const { base, controller, velocity, keys, sweepSeconds, low, high } = duty
  const way = `${low} to ${high}`
  if (keys) return `${way} by the key, from ${keyName(keys[0])} to ${keyName(keys[1])}`
  if (sweepSeconds !== undefined) return `${way} and back again in ${sweepSeconds} s`
  if (velocity === true) return `${way} by how hard it is struck`
  return controller === undefined ? `${base}` : `${way} by controller ${controller}; ${base} until it moves`
}

/** What a part claims, and what becomes of what a claim takes from it. */
export function claimWords({ claim, onLost }: Part): string {
  const ends = onLost === 'end' ? ['what sounds on a lamp that another claims ends'] : []
  const priority = claim && claim.priority !== 0 ? [`priority ${claim.priority}`.replace('-', '\u2212')] : []
  return [whenWords(claim), ...priority, ...ends].join('; ')
}

function whenWords(claim: Claim | undefined): string {
  switch (claim?.when) {
    case undefined:
      return 'none'
    case 'always':
      return 'its lamps, always'
    case 'latched':
      return 'its lamps, from its first note until all is made dark'
    case 'playing':
      return `its lamps, while it plays and ${claim.releaseMs} ms longer`
  }
}

/** "1st", "22nd", "113th" */
export function ordinal(count: number): string {
  const isTeen = Math.floor(count / 10) % 10 === 1
  return `${count}${(isTeen ? undefined : ['th', 'st', 'nd', 'rd'][count % 10]) ?? 'th'}`
}
