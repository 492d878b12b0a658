/** The most pitches that a scale may have. */
export const MOST_PITCHES = 1000
/** A pitch given in cents lies within this of the 1/1, up or down. */
export const MOST_PITCH_CENTS = 120_000
/** The longest name, in UTF-16 units. */
export const LONGEST_SCALE_NAME = 200
/** The most keys in the pattern of a keyboard mapping: all that MIDI has. */
export const MOST_MAP_KEYS = 128
/** Degrees in a keyboard mapping lie within this of 0. */
export const MOST_DEGREE = 10_000
/** The highest rate that a tuning's reference key may have; Hz. */
export const MOST_REFERENCE_HZ = 100_000
