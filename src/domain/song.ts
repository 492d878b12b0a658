import type { FlashGuard } from './flash-guard.ts'
import type { LampId, OutputId, PartId, PlayerId, SongId, TuningId } from './ids.ts'
import type { Glide, Pulse, Vibrato, Wander } from './part-motion.ts'
import type { Pattern } from './pattern.ts'
import type { EnterAt } from './switching.ts'
import type { Bpm, Channel, Duty, Key } from './units.ts'

/** Where a part's duty comes from: `base`, or between `low` and `high` by a controller, by velocity, by the key, or by a slow sweep; one of these. */
export interface DutySource {
  readonly base: Duty
  /** Controller number; value 0 gives `low`, 127 gives `high`; `base` until it is first heard. */
  readonly controller?: number | undefined
  /** Velocity 1 gives nearly `low`, 127 gives `high`. */
  readonly velocity?: boolean | undefined
  /** The lowest of these two keys (as played) gives `low`, the highest `high`, those beyond as much; thin for low notes. */
  readonly keys?: readonly [Key, Key] | undefined
  /** From `low` to `high` and back in so long, evenly, from where the song begins. */
  readonly sweepSeconds?: number | undefined
  readonly low: Duty
  readonly high: Duty
}

/** A part's right to take its lamps from parts without one, and from those whose claim has less priority. */
export interface Claim {
  /**
   * `playing`: from its first note to `releaseMs` after its last. `latched`: from its first note until all is made dark. `always`. Every claim ends with its
   * song.
   */
  readonly when: 'playing' | 'latched' | 'always'
  readonly releaseMs: number
  /** Whole, -100 to 100. Of two claims on a lamp the higher has it, at once; of equals the one that was there first. */
  readonly priority: number
}

/** What becomes of what sounds on a lamp that a claim takes: it finds another lamp or waits for one, as its strategy does it, or it ends there. */
export type OnLost = 'move' | 'end'

/** A strategy's kind and options as the show gives them, already valid, defaults filled in. */
export interface StrategySpec {
  readonly kind: string
  readonly [option: string]: unknown
}

/** One player's share of a song. */
export interface Part {
  readonly id: PartId
  readonly player: PlayerId
  readonly lamps: readonly LampId[]
  readonly strategy: StrategySpec
  /** Keys up or down, before the strategy sees them. */
  readonly transpose: number
  /** Lowest and highest key played (before transposing) that this part takes. */
  readonly notes: readonly [Key, Key]
  readonly duty: DutySource
  /** In place of the song's. */
  readonly tuning?: TuningId | undefined
  readonly glide?: Glide | undefined
  readonly vibrato?: Vibrato | undefined
  readonly pulse?: Pulse | undefined
  readonly claim?: Claim | undefined
  readonly onLost: OnLost
  /** Dark this long before a lamp that is struck again while lit. */
  readonly gapMs: number
}

export interface Song {
  readonly id: SongId
  readonly title: string
  readonly tempo: Bpm
  /** Beats a bar. */
  readonly beats: number
  readonly tuning: TuningId
  /** Lamps drift like tired batteries; absent: they do not. */
  readonly wander?: Wander | undefined
  readonly enter: 'cut' | 'carry'
  /** When it begins once asked for; absent: as the show says. */
  readonly enterAt?: EnterAt | undefined
  /** Another arrangement of that song: in its place of the set list, switched to by itself. */
  readonly variantOf?: SongId | undefined
  /** Not tonight: next and previous pass over it. */
  readonly skip: boolean
  /** How long it is planned to be, in minutes. */
  readonly minutes?: number | undefined
  /** In place of the show's flash guard. */
  readonly flash?: FlashGuard | undefined
  /** Recorded performances of it, Standard MIDI Files, as paths from the show's folder: what checks count. */
  readonly takes: readonly string[]
  /** For the players. */
  readonly notes: string
  readonly parts: readonly Part[]
  /** Step patterns, for parts whose strategy plays them; `next-pattern` goes round among them in this order. */
  readonly patterns: readonly Pattern[]
}

/** What of a player's MIDI also goes on to a MIDI output. */
export interface Thru {
  readonly player: PlayerId
  readonly to: OutputId
  readonly pass: readonly ThruKind[]
  /** Renumber to this channel; absent: as it came. */
  readonly channel?: Channel | undefined
  /** Controllers to renumber; others go on as they came. */
  readonly controllers: readonly { readonly from: number; readonly to: number }[]
}

export type ThruKind = 'controllers' | 'bend' | 'clock' | 'notes'
