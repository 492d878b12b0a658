import { readFileSync, writeFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { showJsonSchema } from '../../../src/show/json-schema.ts'
import { strategies } from '../../../src/strategies/registry.ts'

const FILE = `${import.meta.dirname}/../../../assets/show.schema.json`

/** `UPDATE=1 npx vitest run --config tests/vitest.config.ts tests/unit/show/json-schema.test.ts` writes it anew. */
test('the published JSON Schema is the one that shows are checked with', () => {
  const text = `${JSON.stringify(showJsonSchema(strategies), null, 2)}\n`
  if (process.env.UPDATE === '1') writeFileSync(FILE, text)
  expect(readFileSync(FILE, 'utf8')).toBe(text)
})
