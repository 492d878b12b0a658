import { z } from 'zod'
import { label } from './field-values.ts'

export const clockSchema = z.strictObject({
  follow: label.optional(),
  send: z.array(label).default([]),
  afterSleep: z.enum(['stop', 'go-on']).default('stop'),
})
