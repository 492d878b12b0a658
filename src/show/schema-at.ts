import type { JsonPath } from './json-path.ts'
import type { JsonSchema } from './json-schema.ts'

/**
 * The schemas that a value at `path` of `root` may answer to. There are several where the way leads through a
 * choice; those that the value's own fixed words (`kind`) rule out are left aside. Empty where nothing may stand.
 */
export function schemasAt(schema: JsonSchema, root: unknown, path: JsonPath): readonly JsonSchema[] {
  let value = root
  let schemas = choices(schema, schema)
  for (const step of path) {
    schemas = narrow(schemas, value).flatMap((one) => {
      const next = child(one, step)
      return next === undefined ? [] : choices(next, schema)
    })
    value = isRecord(value) && Object.hasOwn(value, step) ? value[step] : undefined
  }
  return narrow(schemas, value)
}

function choices(schema: JsonSchema, root: JsonSchema): readonly JsonSchema[] {
  if (schema.$ref !== undefined) {
    const target = root.$defs?.[schema.$ref.slice('#/$defs/'.length)]
    return target === undefined ? [] : choices(target, root)
  }
  const options = schema.oneOf ?? schema.anyOf
  return options ? options.flatMap((one) => choices(one, root)) : [schema]
}

function child(schema: JsonSchema, step: string | number): JsonSchema | undefined {
  if (typeof step === 'string') {
    return Object.hasOwn(schema.properties ?? {}, step) ? asSchema(schema.properties?.[step]) : undefined
  }
  if (schema.prefixItems) return asSchema(schema.prefixItems[step])
  return Array.isArray(schema.items) ? undefined : asSchema(schema.items)
}

function asSchema(schema: JsonSchema | boolean | undefined): JsonSchema | undefined {
  return typeof schema === 'object' ? schema : undefined
}

/** Leaves out what contradicts the value's fixed words, unless that leaves nothing. */
function narrow(schemas: readonly JsonSchema[], value: unknown): readonly JsonSchema[] {
  if (schemas.length < 2 || !isRecord(value)) return schemas
  const fitting = schemas.filter((schema) =>
    Object.entries(schema.properties ?? {}).every(
      ([name, one]) => typeof one !== 'object' || one.const === undefined || one.const === value[name],
    ),
  )
  return fitting.length > 0 ? fitting : schemas
}

function isRecord(value: unknown): value is Record<string | number, unknown> {
  return typeof value === 'object' && value !== null
}
