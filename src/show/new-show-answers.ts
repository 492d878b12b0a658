import type { Player } from '../domain/player.ts'
import type { MidiLayout } from '../domain/rig.ts'
import type { Channel } from '../domain/units.ts'

/** What a person answers when they begin: who plays, how many lamps, how they are wired and fed. */
export interface NewShowAnswers {
  readonly title: string
  readonly players: readonly NewPlayer[]
  /** 1 to 64. */
  readonly lamps: number
  readonly wiring: Wiring
  /** `watts`: of each lamp. */
  readonly supply: { readonly volts: number; readonly maxAmps: number; readonly watts: number }
}

export interface NewPlayer {
  readonly kind: Player['kind']
  /** The MIDI port's name; empty: not known yet. */
  readonly port: string
  /** Empty: the usual ones. */
  readonly channels: readonly Channel[]
}

export type Wiring =
  | { readonly kind: 'serial'; readonly port: string }
  | {
      readonly kind: 'midi'
      readonly port: string
      readonly layout: MidiLayout
    }
  | { readonly kind: 'virtual' }
