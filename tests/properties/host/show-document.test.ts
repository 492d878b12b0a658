import fc from 'fast-check'
import { expect, test } from 'vitest'
import { ShowDocument } from '../../../app/engine/host/show-document.ts'
import type { ShowChange } from '../../../src/contract/to-host.ts'
import { parseShow } from '../../../src/show/parse-show.ts'
import { formatShow } from '../../../src/show/write-show.ts'
import { strategies } from '../../../src/strategies/registry.ts'
import { deepFreeze } from '../../support/deep-freeze.ts'
import { checkProperty } from '../../support/property.ts'
import { richShow } from '../../support/rich-show.ts'
import type { Json } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const SHOW = deepFreeze(validShow(richShow()))

/** Ways into the show that are there, and some that are not. */
function ways(value: unknown, path: (string | number)[] = []): (string | number)[][] {
  const own = path.length === 0 ? [] : [path]
  if (typeof value !== 'object' || value === null) return own
  const steps: (string | number)[] = Array.isArray(value)
    ? [...value.keys(), value.length]
    : [...Object.keys(value), 'nothing']
  return [
    ...own,
    ...steps.flatMap((step) => ways((value as Record<string | number, unknown>)[step], [...path, step])),
  ]
}

const path = fc.constantFrom(...ways(SHOW))
const value = fc.oneof(
  fc.constantFrom<Json>(0, 1, 2, 60, 0.25, 'fern', 'keys', 'Other', true, [], {}),
  fc.constantFrom(...ways(SHOW)).map((way) => valueAt(way)),
)

function valueAt(way: readonly (string | number)[]): Json {
  return (way.reduce<unknown>((at, step) => (at as Record<string | number, unknown>)?.[step], SHOW) ??
    null) as Json
}

const wild: fc.Arbitrary<ShowChange> = fc.oneof(
  fc.record({ do: fc.constant('set' as const), path, value }),
  fc.record({ do: fc.constant('insert' as const), path, value }),
  fc.record({ do: fc.constant('remove' as const), path }),
)
/** Such as a screen makes: most are taken. */
const usual: fc.Arbitrary<ShowChange> = fc.oneof(
  fc
    .integer({ min: 10, max: 400 })
    .map((tempo): ShowChange => ({ do: 'set' as const, path: ['songs', 0, 'tempo'], value: tempo })),
  fc
    .string({ minLength: 1, maxLength: 9 })
    .map((title): ShowChange => ({ do: 'set' as const, path: ['title'], value: title })),
  fc.integer({ min: 0, max: SHOW.setList.length }).map((place): ShowChange => ({
    do: 'insert' as const,
    path: ['setList', place],
    value: SHOW.songs[0]?.id ?? '',
  })),
  fc.constant<ShowChange>({ do: 'remove', path: ['setList', 0] }),
  fc.constant<ShowChange>({ do: 'remove', path: ['songs', 0, 'enter'] }),
)

function standing({ text, show, revision, undoLabel, redoLabel }: ShowDocument) {
  return { text, show, revision, undoLabel, redoLabel }
}

interface Deed {
  readonly changes: ShowChange[]
  readonly label: string
  readonly after: number
}

const deeds = fc.array(
  fc.record<Deed>({
    changes: fc.array(fc.oneof({ weight: 3, arbitrary: usual }, { weight: 1, arbitrary: wild }), {
      minLength: 1,
      maxLength: 3,
    }),
    label: fc.constantFrom('one', 'two'),
    after: fc.constantFrom(0, 500, 1_501, 5_000),
  }),
  { maxLength: 12 },
)

test('as many undos as there were steps give back the first text exactly, redos the last; what is refused changes nothing', () => {
  let taken = 0
  let refused = 0
  checkProperty(
    'edits, undone and redone',
    fc.property(deeds, (all) => {
      const document = new ShowDocument(SHOW, { revision: 0, file: null, isSaved: true })
      const first = document.text
      const texts = [first]
      let now = 0
      for (const { changes, label, after } of all) {
        now += after
        const before = standing(document)
        const edited = document.edit({ base: document.revision, label, changes }, now)
        const isNew = edited.ok && edited.isNew
        if (isNew) texts.push(document.text)
        taken += isNew ? 1 : 0
        refused += edited.ok ? 0 : 1
        expect(document.revision).toBe(before.revision + (isNew ? 1 : 0))
        // Anything but a new show leaves all as it was.
        expect(isNew ? before : standing(document)).toEqual(before)
        const faults = edited.ok
          ? ['$ none']
          : edited.faults.map(({ path: where, message }) => `${where} ${message}`)
        expect(faults.filter((fault) => !/^\$.* \S/.test(fault))).toEqual([])
        expect(faults.length).toBeGreaterThan(0)
        // What is kept is a show, and its text is that of its file.
        const parsed = parseShow(document.text, strategies)
        expect(parsed.ok && formatShow(parsed.show)).toBe(document.text)
      }
      const last = document.text
      let steps = 0
      while (document.undo()) {
        steps += 1
        expect(texts).toContain(document.text)
      }
      expect(document.text).toBe(first)
      expect(document.isSaved).toBe(true)
      expect(steps).toBeLessThan(texts.length)
      for (let step = 0; step < steps; step++) expect(document.redo()).toBe(true)
      expect(document.text).toBe(last)
      expect(document.redo()).toBe(false)
    }),
    100,
  )
  // Both kinds were really met.
  expect(taken).toBeGreaterThan(100)
  expect(refused).toBeGreaterThan(50)
})
