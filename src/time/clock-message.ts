/** What a MIDI clock says (MIDI 1.0 Detailed Specification: System Real Time, Song Position Pointer). */
export type ClockMessage =
  /** A 24th of a quarter note. */
  | { readonly kind: 'clock' }
  /** From the beginning: the next clock is the downbeat. */
  | { readonly kind: 'start' }
  /** On from where it stood, with the next clock. */
  | { readonly kind: 'continue' }
  | { readonly kind: 'stop' }
  /** Where it goes on from, counted in clocks. */
  | { readonly kind: 'position'; readonly clocks: number }
