import type { SVGTemplateResult, TemplateResult } from 'lit'
import { css, html, LitElement, nothing, svg } from 'lit'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'
import { markForm, plotMark } from '../style/plot-mark.ts'
import type { CentsScale } from '../tuning/cents-scale.ts'
import { centsScale } from '../tuning/cents-scale.ts'
import type { Series } from '../tuning/pitch-rows.ts'
import { HEARD_CENTS } from '../tuning/pitch-rows.ts'
import { noteName } from '../wording/note-name.ts'

const WIDTH = 480
const HEIGHT = 270
const LEFT = 48
const RIGHT = 8
const TOP = 12
const BOTTOM = 52
/** Where keys stand that a lamp refuses. */
const REFUSED_Y = HEIGHT - 34

/** The error of every key, drawn: keys from left to right, cents up and down. */
export class LanCentsPicture extends LitElement {
  static override properties = {
    series: { attribute: false },
    chosen: {},
    nameOf: { attribute: false },
    words: {},
    isClose: { state: true },
  }
  static override styles = [
    controls,
    plate,
    css`
      line.bar {
        stroke: var(--bar);
      }
      line.nought {
        stroke: var(--bar-strong);
      }
      line.heard {
        stroke: var(--warn);
        stroke-dasharray: 6 5;
      }
      text.heard {
        fill: var(--warn);
      }
      text.refused {
        fill: var(--grave);
        font-size: 11px;
      }
      .legend {
        list-style: none;
        margin: 0.5rem 0 0;
        padding: 0;
        display: flex;
        flex-wrap: wrap;
        gap: 0.25rem 1.25rem;
      }
      .legend svg {
        display: inline-block;
        width: 1em;
        height: 1em;
        vertical-align: -0.1em;
        margin-right: 0.35em;
      }
      .legend .refused {
        color: var(--grave);
      }
    `,
  ]
  declare series: readonly Series[]
  /** The lamp to be shown before the others; empty: none. */
  declare chosen: string
  declare nameOf: (lamp: string) => string
  /** The picture in a sentence. */
  declare words: string
  /** Drawn as large as the errors are, whether they are heard or not. */
  declare private isClose: boolean

  constructor() {
    super()
    this.series = []
    this.chosen = ''
    this.nameOf = (lamp) => lamp
    this.words = ''
    this.isClose = false
  }

  override render(): TemplateResult {
    const rows = this.series.flatMap((one) => one.rows)
    if (rows.length === 0) return html`<p class="margin">There is no pitch to draw.</p>`
    const keys = rows.map(({ key }) => key)
    const range: KeyRange = [Math.min(...keys), Math.max(...keys)]
    const scale = centsScale(Math.max(...rows.map(({ cents }) => Math.abs(cents ?? 0))), this.isClose)
    return html`<button
        type="button"
        aria-pressed=${this.isClose}
        @click=${() => (this.isClose = !this.isClose)}
      >
        Close up
      </button>
      <figure>
        <svg
          viewBox="0 0 ${WIDTH} ${HEIGHT}"
          role="img"
          aria-label="Error in cents over the keys. ${this.words}"
        >
          ${grid(scale, range)}
          ${[...this.series.entries()]
            .toSorted(([, a], [, b]) => Number(this.#isChosen(a)) - Number(this.#isChosen(b)))
            .map(([place, one]) => this.#line(one, place, scale, range))}
        </svg>
        <ul class="legend">
          ${this.series.map((one, place) => this.#legend(one, place))}
          ${
            rows.some(({ asked }) => asked === null)
              ? html`<li><span aria-hidden="true">&ndash;</span> not mapped</li>`
              : nothing
          }
          ${
            rows.some(({ cents, asked }) => cents === undefined && asked !== null)
              ? html`<li><span class="refused" aria-hidden="true">&#x2715;</span> refused</li>`
              : nothing
          }
        </ul>
      </figure>`
  }

  #isChosen({ lamps }: Series): boolean {
    return this.chosen !== '' && lamps.includes(this.chosen)
  }

  #ink(series: Series): string {
    return this.#isChosen(series) ? 'var(--light)' : this.chosen === '' ? 'var(--paper)' : 'var(--bar-strong)'
  }

  #line(series: Series, place: number, scale: CentsScale, range: KeyRange): SVGTemplateResult {
    const ink = this.#ink(series)
    const marks = series.rows.map(({ key, cents, asked }) => {
      if (asked === null)
        return svg`<text class="unmapped" x=${xOf(key, range)} y=${REFUSED_Y} text-anchor="middle">&ndash;</text>`
      if (cents !== undefined) return plotMark(place, xOf(key, range), yOf(cents, scale), ink)
      if (this.chosen !== '' && !this.#isChosen(series)) return nothing
      return svg`<text class="refused" x=${xOf(key, range)} y=${REFUSED_Y} text-anchor="middle">&#x2715;</text>`
    })
    return svg`<g>${marks}</g>`
  }

  #legend(series: Series, place: number): TemplateResult {
    return html`<li>
      <svg viewBox="-6 -6 12 12" role="img" aria-label=${markForm(place)}>
        ${plotMark(place, 0, 0, this.#ink(series))}
      </svg>
      ${series.lamps.map((lamp) => this.nameOf(lamp)).join(', ')}
    </li>`
  }
}

type KeyRange = readonly [number, number]

function xOf(key: number, [low, high]: KeyRange): number {
  const share = high === low ? 0.5 : (key - low) / (high - low)
  return LEFT + 6 + share * (WIDTH - LEFT - RIGHT - 12)
}

function yOf(cents: number, { limit }: CentsScale): number {
  return TOP + (1 - cents / limit) * ((HEIGHT - TOP - BOTTOM) / 2)
}

function grid(scale: CentsScale, range: KeyRange): SVGTemplateResult {
  const end = WIDTH - RIGHT
  const line = (cents: number): SVGTemplateResult => {
    const y = yOf(cents, scale)
    return svg`<line class=${cents === 0 ? 'nought' : 'bar'} x1=${LEFT} x2=${end} y1=${y} y2=${y}></line>
      <text x=${LEFT - 8} y=${y + 5} text-anchor="end">${cents > 0 ? '+' : ''}${String(cents).replace('-', '\u2212')}</text>`
  }
  const heard = (cents: number): SVGTemplateResult =>
    svg`<line class="heard" x1=${LEFT} x2=${end} y1=${yOf(cents, scale)} y2=${yOf(cents, scale)}></line>`
  return svg`${scale.lines.map(line)} ${scale.limit < HEARD_CENTS ? '' : [heard(HEARD_CENTS), heard(-HEARD_CENTS), heardText(scale)]}
    ${keyTicks(range).map(
      (key) =>
        svg`<line class="bar" x1=${xOf(key, range)} x2=${xOf(key, range)} y1=${TOP} y2=${HEIGHT - 22}></line>
          <text x=${xOf(key, range)} y=${HEIGHT - 6} text-anchor="middle">${noteName(key)}</text>`,
    )}`
}

function heardText(scale: CentsScale): SVGTemplateResult {
  return svg`<text class="heard" x=${WIDTH - RIGHT} y=${yOf(HEARD_CENTS, scale) - 5} text-anchor="end">
    about ${HEARD_CENTS} cents is heard
  </text>`
}

/** Every C of the range; of a range without one, its ends. */
function keyTicks([low, high]: KeyRange): number[] {
  const octaves = Array.from({ length: 11 }, (_, octave) => 12 * octave)
  const within = octaves.filter((key) => key >= low && key <= high)
  return within.length > 0 ? within : [...new Set([low, high])]
}

customElements.define('lan-cents-picture', LanCentsPicture)
