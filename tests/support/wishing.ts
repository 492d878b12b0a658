import type { LampIndex, NoteId } from '../../src/domain/ids.ts'
import type { Lit } from '../../src/domain/lamp-state.ts'
import { DARK } from '../../src/domain/lamp-state.ts'
import type { Micros } from '../../src/domain/units.ts'
import type { Wish } from '../../src/domain/wish.ts'
import { lit } from './rig-outputs.ts'

/** A lamp asked to light for a note. */
export function lights(lamp: LampIndex, note: NoteId, more: Partial<Lit> = {}, gap: Micros = 0): Wish {
  return { lamp, state: lit({ drive: { kind: 'bend', key: 69, bend: 8192 }, note, ...more }), gap }
}

export function darkens(lamp: LampIndex): Wish {
  return { lamp, state: DARK, gap: 0 }
}

export function wishes(...list: Wish[]): { readonly kind: 'wishes'; readonly wishes: readonly Wish[] } {
  return { kind: 'wishes', wishes: list }
}
