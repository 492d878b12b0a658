import { z } from 'zod'
import type { AnyStrategyRules } from '../domain/strategy-rules.ts'
import { showSchema } from './schema.ts'

export type JsonSchema = z.core.JSONSchema.JSONSchema

/**
 * What a show file may hold, as JSON Schema (draft 2020-12). It knows fields, types, ranges and defaults, not
 * whether a reference leads anywhere.
 */
export function showJsonSchema(strategies: readonly AnyStrategyRules[]): JsonSchema {
  const schema = z.toJSONSchema(showSchema(strategies), { io: 'input', unrepresentable: 'any' })
  return { ...schema, title: 'Lanthorn show, version 1' }
}
