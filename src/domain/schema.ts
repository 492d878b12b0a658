import type { ZodType } from 'zod'

/** Validates, fills in defaults, and can be written as JSON Schema: a form and a document from one source. */
export type Schema<T> = ZodType<T>
