/** Whole microseconds on the graph's clock. 2^53 of them are 285 years, so a plain number holds every one. */
export type Micros = number
/** Seconds, fractions allowed; only for reports and files. */
export type Seconds = number
/** Cycles a second. */
export type Hz = number
/** Hundredths of an equal-tempered semitone; 1200 an octave. */
export type Cents = number
/** Fraction of a period for which a lamp is on, 0 to 1. */
export type Duty = number
/** Beats (quarter notes) a minute. */
export type Bpm = number
/** Beats (quarter notes); fractions allowed. */
export type Beats = number
export type Volts = number
export type Amps = number
export type Watts = number

/** A key number as MIDI counts them: 60 is middle C, 69 the A above. Transposed keys may leave 0..127. */
export type Key = number
/** A MIDI channel, 1 to 16. */
export type Channel = number
/** A strike's strength, 1 to 127. */
export type Velocity = number

export const MICROS_PER_SECOND = 1_000_000
export const MICROS_PER_MS = 1_000
