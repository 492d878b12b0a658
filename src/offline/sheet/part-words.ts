import type { Glide, Pulse, Vibrato } from '../../domain/part-motion.ts'
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

export function dutyWords({
  duty: { base, controller, velocity, keys, sweepSeconds, low, high },
}: Part): string {
  const way = `${low} to ${high}`
  if (velocity === true) return `${way} by how hard it is struck`
  if (keys) return `${way} from ${keyName(keys[0])} to ${keyName(keys[1])}`
  if (sweepSeconds !== undefined) return `${way} and back in ${sweepSeconds} s`
  return controller === undefined ? `${base}` : `${way} by controller ${controller}; ${base} until it moves`
}

/** A tuning of its own, and what its pitches do by themselves; nothing where there is neither. */
export function pitchWords({ tuning, glide, vibrato, pulse }: Part): string[] {
  return [
    ...(tuning === undefined ? [] : [`in tuning ${tuning}`]),
    ...(glide ? [glideWords(glide)] : []),
    ...(vibrato ? [vibratoWords(vibrato)] : []),
    ...(pulse ? [pulseWords(pulse)] : []),
  ]
}

function glideWords(glide: Glide): string {
  const pace = 'ms' in glide ? `in ${glide.ms} ms` : `at ${glide.centsPerSecond} cents a second`
  return `glides ${pace}, ${glide.when === 'legato' ? 'where a voice goes on without a strike' : 'from note to note'}`
}

function vibratoWords({ cents, hz, delayMs, controller }: Vibrato): string {
  const after = delayMs === 0 ? '' : ` after ${delayMs} ms`
  const by = controller === undefined ? '' : `, as much of it as controller ${controller} says`
  return `vibrato of ${cents} cents, ${hz} a second${after}${by}`
}

function pulseWords(pulse: Pulse): string {
  const rate =
    'ratio' in pulse ? `${pulse.ratio.replace(':', ' flashes to ')} beats` : `${pulse.bpm} flashes a minute`
  const to = pulse.controller === undefined ? '' : `, up to the pitch by controller ${pulse.controller}`
  return `a pulse, ${rate}${to}`
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
