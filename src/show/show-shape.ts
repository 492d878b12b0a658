import type { Show } from '../domain/show.ts'
import type { Schema } from '../domain/schema.ts'
import type { AnyStrategyRules } from '../domain/strategy-rules.ts'
import type { JsonSchema } from './json-schema.ts'
import { showJsonSchema } from './json-schema.ts'
import { showSchema } from './schema.ts'

export interface ShowShape {
  readonly schema: Schema<Show>
  /** Only needed once there is a fault to put into words. */
  json(): JsonSchema
}

const shapes = new WeakMap<readonly AnyStrategyRules[], ShowShape>()

/** The schema of a show with these strategies, built once: that takes longer than reading a show with it. */
export function showShape(strategies: readonly AnyStrategyRules[]): ShowShape {
  const known = shapes.get(strategies)
  if (known) return known
  let json: JsonSchema | undefined
  const shape: ShowShape = {
    schema: showSchema(strategies),
    json: () => (json ??= showJsonSchema(strategies)),
  }
  shapes.set(strategies, shape)
  return shape
}
