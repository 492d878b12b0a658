import type { ClockSettings } from './clock-settings.ts'
import type { FlashGuard } from './flash-guard.ts'
import type { SongId } from './ids.ts'
import type { Player } from './player.ts'
import type { Rig } from './rig.ts'
import type { Song, Thru } from './song.ts'
import type { Switching } from './switching.ts'
import type { TuningSpec } from './tuning-spec.ts'

/** What the guards do when a limit is met. */
export interface GuardSettings {
  /** Of songs that have none of their own. */
  readonly flash: FlashGuard
  readonly supply: { readonly action: 'refuse' | 'steal' | 'warn' }
}

/** A whole show, valid, every default filled in. */
export interface Show {
  readonly format: 'lanthorn-show'
  readonly version: 1
  readonly title: string
  readonly rig: Rig
  readonly thru: readonly Thru[]
  readonly players: readonly Player[]
  readonly tunings: readonly TuningSpec[]
  readonly songs: readonly Song[]
  readonly setList: readonly SongId[]
  readonly switching: Switching
  readonly clock: ClockSettings
  readonly guards: GuardSettings
}
