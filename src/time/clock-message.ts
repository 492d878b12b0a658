/** Status bytes (MIDI 1.0 Detailed Specification: System Real Time and System Common Messages). */
export const TIMING_CLOCK = 0xf8
export const START = 0xfa
export const CONTINUE = 0xfb
export const STOP = 0xfc
export const SONG_POSITION = 0xf2

/** Song positions are counted in sixteenths, "MIDI beats" of so many clocks. */
export const CLOCKS_A_SIXTEENTH = 6

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
