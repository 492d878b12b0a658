import type { FlashAction, FlashGuard } from '../../../src/domain/flash-guard.ts'
import { SEEN_STEADY_HZ } from '../../../src/domain/flash-guard.ts'
import type { GuardSettings } from '../../../src/domain/show.ts'
import type { NumberKind } from '../rig/ranges.ts'

interface GuardChoice<Action> {
  readonly value: Action
  readonly text: string
  /** A line about it. */
  readonly about: string
}

/** What may be done about light that flashes, the least of it first and `off` last. */
export const FLASH_CHOICES: readonly GuardChoice<FlashAction>[] = [
  {
    value: 'warn',
    text: 'warns',
    about: 'Flashes are counted and told on the Stage; nothing is held back.',
  },
  {
    value: 'fold',
    text: 'folds slow rates up',
    about: `Rates of 3 Hz and more that would be seen, and all notes under ${SEEN_STEADY_HZ} Hz, move up by octaves: low notes sound higher than played.`,
  },
  {
    value: 'glow',
    text: 'glows between notes',
    about:
      'Between notes lamps stay lit at a rate above hearing, until for some seconds none has sounded. Meanwhile they draw current and warm up. Lamps on MIDI outputs cannot.',
  },
  {
    value: 'limit',
    text: 'limits changes',
    about:
      'All lamps taken together go from lit to dark or back at most so often in any second; notes that would end sooner are tied.',
  },
  {
    value: 'off',
    text: 'off',
    about: 'Flashes are counted, but not told while it plays; nothing is held back.',
  },
]

export const SUPPLY_CHOICES: readonly GuardChoice<GuardSettings['supply']['action']>[] = [
  { value: 'refuse', text: 'refuses', about: 'A lamp past what its supply may give stays dark.' },
  { value: 'steal', text: 'steals', about: 'It lights, and the one lit longest goes dark for it.' },
  {
    value: 'warn',
    text: 'warns',
    about: 'It lights and is counted: the supply gives more than the show says it may.',
  },
]

/** Ends as in the show file's schema. */
export const GLOW_NUMBERS = {
  seconds: { label: 'Glows on after the last note for', unit: 's', min: 0.5, max: 3600 },
  hz: { label: 'At a rate of', unit: 'Hz', min: 20_000, max: 65_000, step: 500 },
} as const satisfies Record<string, NumberKind>

export const LIMIT_NUMBERS = {
  changes: { label: 'Changes in any second, at most', min: 2, max: 120, whole: true },
} as const satisfies Record<string, NumberKind>

/** What a guard begins with when it is chosen: the defaults of the show file. `day`: since when it is off. */
export function startingGuard(action: FlashAction, day: string): FlashGuard {
  switch (action) {
    case 'glow':
      return { action, seconds: 4, hz: 25_000 }
    case 'limit':
      return { action, changes: 6 }
    case 'off':
      return { action, since: day }
    default:
      return { action }
  }
}
