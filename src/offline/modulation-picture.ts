import type { LampId } from '../domain/ids.ts'
import {
  endOfLine,
  MODULATION_LINES,
  modulationFormula,
  modulationLimit,
} from '../domain/modulation-limits.ts'
import type { ModulationLine } from '../domain/modulation-limits.ts'
import type { Hz, Seconds } from '../domain/units.ts'
import type { FlashFigure } from '../guards/flash/flash-figures.ts'
import { modulationCaption, modulationRows, OUR_MODULATION } from './modulation-rows.ts'
import type { ModulationRow } from './modulation-rows.ts'
import type { Markup } from './sheet/html.ts'
import { html } from './sheet/html.ts'

const [LEFT, RIGHT, WIDTH] = [150, 700, 720]
const [LOW_HZ, HIGH_HZ]: readonly [Hz, Hz] = [1, 100_000]
const [LOW_PERCENT, HIGH_PERCENT] = [0.01, 100]
const TOP = 44
const ROW = 16
const PLOT = 220
/** Lamps that have a row of their own. */
const MOST_LAMPS = 40
const SMALLEST = 1.5
const LARGEST = 7
const DASHES = ['none', '7 4']

interface Row {
  readonly name: string
  readonly marks: readonly ModulationRow[]
}

/**
 * Percent modulation against rate, both by equal ratios, as an SVG in black on white: the standard's two lines, and over them, each at 100 %, a row a lamp with a
 * mark for each of its rates; a mark's area goes with its time. The 40 lamps lit longest have rows; `modulationRows` has all. `id` begins the ids in it, so that a page may
 * have several.
 */
export function modulationPicture(
  figure: Pick<FlashFigure, 'lamps'>,
  names: ReadonlyMap<LampId, string>,
  id = 'modulation',
): string {
  const all = modulationRows(figure, names)
  const rows = rowsOf(figure, all)
  const left = new Set(all.map(({ lamp }) => lamp)).size - rows.length
  const longest = Math.max(0, ...all.map(({ seconds }) => seconds))
  const plotTop = TOP + Math.max(1, rows.length) * ROW + 10
  const y = (percent: number): number => plotTop + PLOT * (1 - ratio(percent, LOW_PERCENT, HIGH_PERCENT))
  const height = plotTop + PLOT + 96
  return html`<svg
    xmlns="http://www.w3.org/2000/svg"
    viewBox="0 0 ${WIDTH} ${tenth(height)}"
    width="${WIDTH}"
    height="${tenth(height)}"
    role="img"
    aria-labelledby="${id}-title ${id}-desc"
    font-family="'Atkinson Hyperlegible Next', Arial, 'Liberation Sans', sans-serif"
    font-size="12"
    fill="#000"
  >
    <title id="${id}-title">Percent modulation against rate</title>
    <desc id="${id}-desc">${inWords(all)} ${modulationCaption()}</desc>
    <rect width="${WIDTH}" height="${tenth(height)}" fill="#fff" />
    <text x="${LEFT}" y="${TOP - 24}">lamps, all at ${OUR_MODULATION} %</text>
    ${left > 0 ? html`<text x="${RIGHT}" y="${TOP - 24}" text-anchor="end">and ${left} more, lit for less time</text>` : ''}
    ${rows.map((row, place) => lampRow(row, TOP + place * ROW, longest))} ${grid(plotTop, y)}
    ${MODULATION_LINES.map((line, place) => drawn(line, DASHES[place]!, y))}
    ${MODULATION_LINES.map((line, place) => legend(line, DASHES[place]!, plotTop + PLOT + 58 + 20 * place))}
  </svg>`.text
}

/** Where a value lies between two others by equal ratios, 0 to 1. */
function ratio(value: number, low: number, high: number): number {
  return Math.log(value / low) / Math.log(high / low)
}

function x(hz: Hz): number {
  return LEFT + (RIGHT - LEFT) * ratio(Math.min(HIGH_HZ, Math.max(LOW_HZ, hz)), LOW_HZ, HIGH_HZ)
}

const tenth = (value: number): string => String(Number(value.toFixed(1)))

function rowsOf({ lamps }: Pick<FlashFigure, 'lamps'>, all: readonly ModulationRow[]): Row[] {
  const lit = Object.entries(lamps).filter(([, { rates }]) => rates.length > 0)
  const longest = lit.toSorted((a, b) => b[1].litSeconds - a[1].litSeconds).slice(0, MOST_LAMPS)
  const shown = new Set(longest.map(([lamp]) => lamp))
  return lit
    .filter(([lamp]) => shown.has(lamp))
    .map(([lamp]) => {
      const marks = all.filter((one) => one.lamp === lamp)
      return { name: marks[0]!.name, marks }
    })
}

function lampRow({ name, marks }: Row, top: number, longest: Seconds): Markup {
  const middle = top + ROW / 2
  return html`<g>
    <text x="${LEFT - 10}" y="${tenth(middle + 4)}" text-anchor="end">${shortened(name)}</text>
    <path d="M${LEFT} ${tenth(middle)}H${RIGHT}" stroke="#999" stroke-width="0.5" />
    ${marks.map((one) => mark(one, middle, longest))}
  </g>`
}

/** A disc; a triangle that points out where the rate is beyond the picture. */
function mark(row: ModulationRow, middle: number, longest: Seconds): Markup {
  const { hz, seconds } = row
  const size = SMALLEST + (LARGEST - SMALLEST) * Math.sqrt(longest > 0 ? seconds / longest : 0)
  const words = html`<title>${rowWords(row)}</title>`
  const ink = html`fill="#000" stroke="#fff" stroke-width="0.8"`
  if (hz >= LOW_HZ && hz <= HIGH_HZ)
    return html`<circle cx="${tenth(x(hz))}" cy="${tenth(middle)}" r="${tenth(size)}" ${ink}
      >${words}</circle
    >`
  const way = hz < LOW_HZ ? -size : size
  const points = `${tenth(x(hz))},${tenth(middle - size)} ${tenth(x(hz))},${tenth(middle + size)} ${tenth(x(hz) + way)},${tenth(middle)}`
  return html`<polygon points="${points}" ${ink}>${words}</polygon>`
}

function grid(top: number, y: (percent: number) => number): Markup {
  const bottom = top + PLOT
  const rates = [1, 10, 100, 1000, 10_000, 100_000]
  const percents = [0.01, 0.1, 1, 10, 100]
  return html`<g stroke="#999" stroke-width="0.5">
      ${rates.map((hz) => html`<path d="M${tenth(x(hz))} ${tenth(top)}V${tenth(bottom)}" />`)}
      ${percents.map((percent) => html`<path d="M${LEFT} ${tenth(y(percent))}H${RIGHT}" />`)}
    </g>
    ${rates.map((hz) => html`<text x="${tenth(x(hz))}" y="${tenth(bottom + 16)}" text-anchor="middle">${rateName(hz)}</text>`)}
    ${percents.map((percent) => html`<text x="${LEFT - 10}" y="${tenth(y(percent) + 4)}" text-anchor="end">${percent} %</text>`)}
    <text x="${tenth((LEFT + RIGHT) / 2)}" y="${tenth(bottom + 34)}" text-anchor="middle">rate, Hz</text>
    <text x="10" y="${tenth(top + PLOT / 2)}">modulation</text>`
}

/** Along its stretches, then up to 100 % and so out of the picture where it ends. */
function drawn(line: ModulationLine, dashes: string, y: (percent: number) => number): Markup {
  const ends = line.stretches.flatMap(({ to, percentPerHz }, place) => {
    const from = line.stretches[place - 1]?.to ?? LOW_HZ
    return [from, to].map((hz) => `${tenth(x(hz))} ${tenth(y(percentPerHz * hz))}`)
  })
  const end = endOfLine(line)
  const limit = modulationLimit(line, end) ?? OUR_MODULATION
  return html`<path
      d="M${ends.join('L')}"
      fill="none"
      stroke="#000"
      stroke-width="1.6"
      stroke-dasharray="${dashes}"
      ><title>${line.name}</title></path
    >
    <path
      d="M${tenth(x(end))} ${tenth(y(limit))}V${tenth(TOP - 4)}"
      fill="none"
      stroke="#000"
      stroke-width="1"
      stroke-dasharray="${dashes}"
    />
    <text
      x="${tenth(x(end) + (dashes === 'none' ? -3 : 3))}"
      y="${TOP - 8}"
      text-anchor="${dashes === 'none' ? 'end' : 'start'}"
      >${end} Hz</text
    >`
}

function legend(line: ModulationLine, dashes: string, top: number): Markup {
  return html`<path
      d="M${LEFT - 50} ${tenth(top - 4)}H${LEFT - 8}"
      fill="none"
      stroke="#000"
      stroke-width="1.6"
      stroke-dasharray="${dashes}"
    />
    <text x="${LEFT}" y="${tenth(top)}">${line.name}: ${modulationFormula(line)}</text>`
}

function rateName(hz: Hz): string {
  return hz >= 1000 ? `${hz / 1000} k` : String(hz)
}

const LONGEST_NAME = 18

function shortened(name: string): string {
  const characters = [...name]
  return characters.length <= LONGEST_NAME ? name : `${characters.slice(0, LONGEST_NAME - 1).join('')}…`
}

function rowWords({ name, hz, seconds, percent }: ModulationRow): string {
  return `${name}: ${rounded(hz)} Hz, ${seconds.toFixed(1)} s, ${percent} %`
}

/** Three digits are what a twelfth of an octave is worth. */
function rounded(hz: Hz): string {
  return String(Number(hz.toPrecision(3)))
}

function inWords(rows: readonly ModulationRow[]): string {
  if (rows.length === 0) return 'No lamp was lit.'
  const rates = rows.map(({ hz }) => hz)
  const lamps = new Set(rows.map(({ lamp }) => lamp)).size
  const ends = MODULATION_LINES.map(endOfLine)
  const under = ends.map((end) => rows.filter(({ hz }) => hz <= end).length)
  return (
    `${lamps} ${lamps === 1 ? 'lamp' : 'lamps'} at ${rows.length} ${rows.length === 1 ? 'rate' : 'rates'}, ${rounded(Math.min(...rates))} to ${rounded(Math.max(...rates))} Hz; ` +
    MODULATION_LINES.map(
      ({ name }, place) => `${under[place]} of them where ${name} has a limit (up to ${ends[place]} Hz)`,
    ).join(', ') +
    '.'
  )
}
