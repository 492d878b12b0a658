import fc from 'fast-check'
import { expect, test } from 'vitest'
import { readJson } from '../../src/show/json-text.ts'
import { parseShow } from '../../src/show/parse-show.ts'
import { formatFaults } from '../../src/show/show-fault.ts'
import { formatShow } from '../../src/show/write-show.ts'
import { strategies } from '../../src/strategies/registry.ts'
import { mutated, mutations } from '../support/mutate-json.ts'
import { checkProperty } from '../support/property.ts'
import { richShow } from '../support/rich-show.ts'
import { glasshouse, glasshouseText } from '../support/shows.ts'

/** Asks for a show, or for at least one fault, each of which can be said in words. */
function answer(text: string): string {
  const parsed = parseShow(text, strategies)
  return parsed.ok ? '$ is a show' : formatFaults(parsed.faults)
}

const CHARS = '{}[]:,"\\-+.01e/*u \n\t\0\u2028\u00a0é'
const WORDS = ['"a"', '1e999', 'null', 'true', '//', '\\u00e9']
const soup = fc.array(fc.constantFrom(...CHARS, ...WORDS)).map((pieces) => pieces.join(''))

test('random text is answered, never thrown at', () => {
  checkProperty(
    'random text',
    fc.property(fc.oneof(fc.string({ unit: 'binary' }), soup), (text) => {
      expect(answer(text)).toMatch(/^\$/)
    }),
  )
})

test('text is taken for JSON where the language itself takes it, and nowhere else', () => {
  const whole = fc.jsonValue({ maxDepth: 3 }).map((value) => JSON.stringify(value))
  const around = fc.tuple(fc.oneof(whole, soup), soup, fc.oneof(whole, soup)).map((pieces) => pieces.join(''))
  const inside = fc.tuple(whole, soup, fc.nat()).map(([text, scratch, at]) => {
    const place = at % (text.length + 1)
    return text.slice(0, place) + scratch + text.slice(place + 1)
  })
  checkProperty(
    'JSON or not',
    fc.property(fc.oneof(soup, whole, around, inside), (text) => {
      expect(readJson(text).ok).toBe(isJson(text))
    }),
    5000,
  )
})

function isJson(text: string): boolean {
  try {
    JSON.parse(text)
    return true
  } catch {
    return false
  }
}

test('random JSON is answered, on its own or inside a show', () => {
  const field = fc.constantFrom('rig', 'players', 'songs', 'thru', 'guards')
  checkProperty(
    'random JSON',
    fc.property(fc.jsonValue({ maxDepth: 6 }), field, (value, name) => {
      expect(answer(JSON.stringify(value))).toMatch(/^\$/)
      expect(answer(JSON.stringify({ ...glasshouse(), [name]: value }))).toMatch(/^\$/)
    }),
  )
})

test('a show torn or scratched anywhere is answered, and a torn one never taken for whole', () => {
  const text = glasshouseText().trimEnd()
  const place = fc.nat({ max: text.length - 1 })
  checkProperty(
    'torn shows',
    fc.property(place, fc.string({ maxLength: 3 }), (at, scratch) => {
      expect(parseShow(text.slice(0, at), strategies).ok).toBe(false)
      expect(answer(text.slice(0, at) + scratch + text.slice(at + 1))).toMatch(/^\$/)
    }),
  )
})

test('after any change to a good show its faults point at what is there, or at what is missing from it', () => {
  const show = richShow()
  checkProperty(
    'mutated shows',
    fc.property(fc.array(mutations(show), { minLength: 1, maxLength: 3 }), (changes) => {
      const broken = changes.reduce(mutated, show)
      const parsed = parseShow(JSON.stringify(broken, null, 2), strategies)
      const faults = parsed.ok ? [] : parsed.faults
      const lost = faults.filter(({ path, line }) => line === undefined || !holderIsThere(broken, path))
      expect(lost).toEqual([])
    }),
    2000,
  )
})

/** Follows a fault's path, but for its last step, as somebody with the file before them would. */
function holderIsThere(root: unknown, path: string): boolean {
  const steps = [...path.matchAll(/\.([^.[]+)|\[(\d+)\]|\[("(?:[^"\\]|\\.)*")\]/g)].map(
    ([, name, index, quoted]) => name ?? index ?? (JSON.parse(quoted ?? '""') as string),
  )
  let at: unknown = root
  for (const step of steps.slice(0, -1)) at = (at as Record<string, unknown> | undefined)?.[step]
  return steps.length === 0 || (typeof at === 'object' && at !== null)
}

test('whatever parses reads back from its own text as the same show', () => {
  const show = richShow()
  let whole = 0
  checkProperty(
    'round trip',
    fc.property(mutations(show), (change) => {
      const first = parseShow(JSON.stringify(mutated(show, change)), strategies)
      if (!first.ok) return
      whole++
      const text = formatShow(first.show)
      const second = parseShow(text, strategies)
      expect(second).toEqual({ ok: true, show: first.show, notes: [] })
      expect(second.ok && formatShow(second.show)).toBe(text)
    }),
    2000,
  )
  // Changes that all broke the show would leave nothing to compare.
  expect(whole).toBeGreaterThan(100)
})

test('the show that is changed is good', () => {
  expect(answer(JSON.stringify(richShow()))).toBe('$ is a show')
})
