import type { LampId, LampIndex, NoteId, PartId, PlayerId } from './ids.ts'
import type { Cents, Duty, Hz, Key, Velocity } from './units.ts'

/** How an output makes a rate, after quantising. */
export type Drive =
  /** `rate` = Hz x 65536 as on the wire; period = prescaler x (1 + top) timer clocks. */
  | {
      readonly kind: 'timer'
      readonly rate: number
      readonly prescaler: number
      readonly top: number
      /** On-fraction of that period, where it is not the lamp's own: it is begun anew before the period ends. */
      readonly duty?: Duty
    }
  /** Nearest key and 14-bit bend (centre 8192). */
  | { readonly kind: 'bend'; readonly key: Key; readonly bend: number }

/** A lamp that flashes. */
export interface Lit {
  readonly on: true
  readonly part: PartId
  readonly player: PlayerId
  readonly note: NoteId
  readonly key: Key
  readonly velocity: Velocity
  /** What was asked, folded into the lamp's range. */
  readonly hz: Hz
  /** What the timer or bend really does. */
  readonly realHz: Hz
  /** realHz against hz. */
  readonly cents: Cents
  readonly duty: Duty
  readonly drive: Drive
  /** A new onset rather than a change of a sounding voice. */
  readonly strike: boolean
  /** The lamp is driven as a pulse, and this is its flash of that number: it begins with its on part as it is told. */
  readonly flash?: number | undefined
  /** It sounds nothing: a guard keeps it lit between notes, above hearing. Then `note` is 0. */
  readonly glow?: true | undefined
}

export interface Dark {
  readonly on: false
}

export type LampState = Lit | Dark

export const DARK: Dark = { on: false }

/** One lamp's new state. `index` is the lamp's place in the rig. */
export interface LampChange {
  readonly lamp: LampId
  readonly index: LampIndex
  readonly state: LampState
}

/** Whether two states would look the same to the lamp box. */
export function sameState(a: LampState, b: LampState): boolean {
  if (!a.on || !b.on) return a.on === b.on
  const isSameNote = a.note === b.note && a.player === b.player && a.key === b.key && a.part === b.part
  return (
    isSameNote &&
    a.flash === b.flash &&
    a.glow === b.glow &&
    a.realHz === b.realHz &&
    a.hz === b.hz &&
    a.duty === b.duty
  )
}
