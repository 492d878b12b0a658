import type { LampIndex, PartIndex } from './ids.ts'
import type { Voice } from './intent.ts'

/** An intent that its part had the right to: what the lamp shall do. */
export type Order =
  | {
      readonly kind: 'light'
      readonly lamp: LampIndex
      readonly part: PartIndex
      readonly voice: Voice
      readonly strike: boolean
    }
  | { readonly kind: 'dark'; readonly lamp: LampIndex }
