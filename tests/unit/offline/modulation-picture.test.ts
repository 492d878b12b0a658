import { expect, test } from 'vitest'
import type { LampFlashFigure } from '../../../src/guards/flash/flash-figures.ts'
import { modulationPicture } from '../../../src/offline/modulation-picture.ts'
import { modulationCaption, modulationRows } from '../../../src/offline/modulation-rows.ts'

function lamp(...rates: readonly (readonly [hz: number, seconds: number])[]): LampFlashFigure {
  const litSeconds = rates.reduce((sum, [, seconds]) => sum + seconds, 0)
  const none = { perSecondMax: 0, bandSeconds: 0, under60Seconds: 0 }
  return { ...none, litSeconds, rates: rates.map(([hz, seconds]) => ({ hz, seconds })) }
}

const NAMES = new Map([
  ['fern', 'Fern'],
  ['moss', 'Moss <by the door> & "more"'],
])
const FIGURE = {
  lamps: { fern: lamp([1000, 16], [10, 4], [100, 1]), moss: lamp([0.5, 2], [25_000, 9]), reed: lamp() },
}

interface Found {
  readonly name: string
  readonly attributes: Readonly<Record<string, string>>
  text: string
}

/** The elements of a drawing, all of which must be closed, in order. */
function elementsOf(svg: string): Found[] {
  const found: Found[] = []
  const open: Found[] = []
  const crossed: string[] = []
  for (const [, slash, name, attributes, self, text] of svg.matchAll(
    /<(\/?)([a-z]+)((?:\s+[\w-]+="[^"<]*")*)\s*(\/?)>([^<]*)/g,
  )) {
    if (slash === '/') {
      if (open.pop()?.name !== name) crossed.push(name!)
    } else {
      const pairs = [...attributes!.matchAll(/([\w-]+)="([^"]*)"/g)].map(([, key, value]) => [key, value])
      const element = { name: name!, attributes: Object.fromEntries(pairs), text: text!.trim() }
      found.push(element)
      if (self !== '/') open.push(element)
    }
  }
  expect([...open, ...crossed]).toEqual([])
  // Nothing but elements, text and references: no stray mark.
  expect(svg.replace(/<[^<>]*>/g, '').replace(/&(?:amp|lt|gt|quot|#39);/g, '')).not.toMatch(/[<>&]/)
  return found
}

const named = (elements: readonly Found[], name: string): Found[] =>
  elements.filter((one) => one.name === name)

test('each rate of each lamp is a mark where its logarithm puts it, as large as its time', () => {
  const circles = named(elementsOf(modulationPicture(FIGURE, NAMES)), 'circle')
  // Marks of fern stand at 3, 1 and 2 of the five decades, moss's second at 4.398.
  const places = circles.map(({ attributes: { cx } }) => (5 * (Number(cx) - 150)) / 550)
  for (const [place, decades] of [3, 1, 2, Math.log10(25_000)].entries())
    expect(places[place]).toBeCloseTo(decades, 2)
  const sizes = circles.map(({ attributes: { r } }) => Number(r))
  // 16, 4, 1 and 9 seconds: from 1.5 up by the square root of the time.
  expect(sizes).toEqual([7, 4.3, 2.9, 5.6])
})

test('a rate beyond the picture is a triangle that points out at its edge', () => {
  const [triangle, ...more] = named(elementsOf(modulationPicture(FIGURE, NAMES)), 'polygon')
  expect(more).toEqual([])
  const xs = triangle!.attributes['points']!.split(' ').map((point) => Number(point.split(',')[0]))
  expect(xs[0]).toBe(150)
  expect(xs[2]).toBeLessThan(150)
})

test('all is said in words: title, description, each mark, both lines with their formulas', () => {
  const svg = modulationPicture(FIGURE, NAMES, 'tide')
  const elements = elementsOf(svg)
  const [picture] = elements
  expect(picture!.attributes).toMatchObject({ role: 'img', 'aria-labelledby': 'tide-title tide-desc' })
  const ids = elements.flatMap(({ attributes }) => attributes['id'] ?? [])
  expect(ids).toEqual(['tide-title', 'tide-desc'])
  const [description] = named(elements, 'desc')
  expect(description!.text).toContain('2 lamps at 5 rates, 0.5 to 25000 Hz')
  expect(description!.text).toContain(
    '4 of them where IEEE 1789-2015, recommended practice 1 has a limit (up to 1250 Hz)',
  )
  expect(description!.text).toContain(modulationCaption())
  const titles = named(elements, 'title').map(({ text }) => text)
  expect(titles).toContain('Fern: 1000 Hz, 16.0 s, 100 %')
  expect(titles).toContain('Moss &lt;by the door&gt; &amp; &quot;more&quot;: 0.5 Hz, 2.0 s, 100 %')
  const texts = named(elements, 'text').map(({ text }) => text)
  expect(texts).toContain(
    'IEEE 1789-2015, recommended practice 2: 0.01 × f % under 90 Hz, 0.0333 × f % from 90 to 3000 Hz',
  )
  expect(svg.toLowerCase()).not.toMatch(/safe|low.?risk/)
})

test('it is black on white: greys are for the grid, and lines differ by their dashes', () => {
  const elements = elementsOf(modulationPicture(FIGURE, NAMES))
  const colours = elements.flatMap(({ attributes: { fill, stroke } }) => [fill, stroke])
  expect(new Set(colours.filter((one) => one !== undefined && one !== 'none'))).toEqual(
    new Set(['#000', '#fff', '#999']),
  )
  const dashes = named(elements, 'path').map(({ attributes }) => attributes['stroke-dasharray'])
  expect(new Set(dashes.filter((one) => one !== undefined))).toEqual(new Set(['none', '7 4']))
})

test('the same as rows, with the limits of both practices', () => {
  const rows = modulationRows(FIGURE, NAMES)
  expect(rows).toHaveLength(5)
  expect(rows[0]).toEqual({
    lamp: 'fern',
    name: 'Fern',
    hz: 1000,
    seconds: 16,
    percent: 100,
    limits: [80, expect.closeTo(33.3, 9) as number],
  })
  expect(rows[4]).toMatchObject({ lamp: 'moss', hz: 25_000, limits: [undefined, undefined] })
})

test('forty lamps have rows, those lit longest; how many have none is said, and the rows have all', () => {
  const lamps = Object.fromEntries(
    Array.from({ length: 43 }, (_, place) => [`lamp${place}`, lamp([440, 1 + place])]),
  )
  const elements = elementsOf(modulationPicture({ lamps }, new Map()))
  expect(named(elements, 'circle')).toHaveLength(40)
  const texts = named(elements, 'text').map(({ text }) => text)
  expect(texts).toContain('and 3 more, lit for less time')
  expect(texts).toContain('lamp3')
  expect(texts).not.toContain('lamp2')
  expect(modulationRows({ lamps }, new Map())).toHaveLength(43)
})

test('where no lamp was lit it says so', () => {
  const elements = elementsOf(modulationPicture({ lamps: { fern: lamp() } }, NAMES))
  expect(named(elements, 'circle')).toEqual([])
  expect(named(elements, 'desc')[0]!.text).toMatch(/^No lamp was lit\./)
})
