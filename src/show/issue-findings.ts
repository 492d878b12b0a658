import type { z } from 'zod'
import { expectedText, literals } from './expected.ts'
import { foundValue, oneOf, quote } from './found.ts'
import type { JsonPath } from './json-path.ts'
import { valueAt } from './json-path.ts'
import type { JsonSchema } from './json-schema.ts'
import { didYouMean } from './near-miss.ts'
import { schemasAt } from './schema-at.ts'
import type { Finding } from './show-fault.ts'

type Issue = z.core.$ZodIssue

/**
 * What the schema library has against `root`, in words a musician can act on. What was expected is read from the
 * JSON Schema at the place, so that message, document and check have one source.
 */
export function issueFindings(
  issues: readonly Issue[],
  schema: JsonSchema,
  root: unknown,
  base: JsonPath = [],
): Finding[] {
  return issues.flatMap((issue) => {
    const path = [...base, ...issue.path.map((step) => (typeof step === 'number' ? step : String(step)))]
    if (issue.code === 'unrecognized_keys') return unknownFields(issue.keys, path, schema, root)
    const inner = issue.code === 'invalid_union' ? likeliestBranch(issue.errors) : undefined
    return inner ? issueFindings(inner, schema, root, path) : [wrongValue(issue, path, schema, root)]
  })
}

function unknownFields(
  keys: readonly string[],
  path: JsonPath,
  schema: JsonSchema,
  root: unknown,
): Finding[] {
  const known = new Set(schemasAt(schema, root, path).flatMap((one) => Object.keys(one.properties ?? {})))
  const present = valueAt(root, path)
  const absent = [...known].filter((name) => valueAt(present, [name]) === undefined)
  return keys.map((key) => ({
    path: [...path, key],
    found: `unknown field ${quote(key)}`,
    expected: oneOf([...known]),
    hint: didYouMean(key, absent),
  }))
}

function wrongValue(issue: Issue, path: JsonPath, schema: JsonSchema, root: unknown): Finding {
  const value = valueAt(root, path)
  const schemas = schemasAt(schema, root, path)
  const words = literals(schemas).filter((word) => typeof word === 'string')
  return {
    path,
    found: value === undefined ? missing(path) : foundValue(value),
    expected: ownWords(issue) ?? expectedText(schemas),
    hint: didYouMean(value, words),
  }
}

function missing(path: JsonPath): string {
  const last = path.at(-1)
  return typeof last === 'string' ? `the field ${JSON.stringify(last)} is missing` : 'found nothing'
}

/** A check written by hand says itself what it expects. */
function ownWords(issue: Issue): string | undefined {
  const isOwn =
    issue.code === 'custom' || (issue.code === 'invalid_format' && !issue.message.startsWith('Invalid '))
  return isOwn ? issue.message.replace(/^expected /, '') : undefined
}

/** Of a choice's branches, the one whose kind of value was met and that is nearest to fit; undefined when none stands out. */
function likeliestBranch(branches: readonly (readonly Issue[])[]): readonly Issue[] | undefined {
  const met = branches.filter((issues) => !issues.some(isOtherKind))
  const least = Math.min(...met.map((issues) => issues.length))
  const nearest = met.filter((issues) => issues.length === least)
  return nearest.length === 1 ? nearest[0] : undefined
}

function isOtherKind(issue: Issue): boolean {
  return issue.path.length === 0 && (issue.code === 'invalid_type' || issue.code === 'invalid_value')
}
