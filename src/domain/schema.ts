import type { ZodType } from 'zod'

/** Validates, fills in defaults, and can be written as JSON Schema: a form and a document from one source. */
export type Schema<T> = ZodType<T>

// Hints to the form that is drawn from a schema, as in `z.string().meta(LAMP)`; they check nothing.

/** Text that is a lamp's id. */
export const LAMP = { format: 'lamp' } as const
/** Text that is the id of one of the song's patterns. */
export const PATTERN = { format: 'pattern' } as const
/** A whole number that is a key. */
export const KEY = { format: 'key' } as const
/** A list whose entries belong to the part's lamps, in the part's order. */
export const PER_LAMP = { perLamp: true } as const
