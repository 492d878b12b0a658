import type { PropertyDeclarations, SVGTemplateResult, TemplateResult } from 'lit'
import { css, html, LitElement, nothing, svg } from 'lit'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'
import { centsScale } from '../tuning/cents-scale.ts'
import type { CentsScale } from '../tuning/cents-scale.ts'
import type { ChordPair } from '../tuning/chord.ts'
import { ratioWords } from '../tuning/chord-words.ts'
import { noteName } from '../wording/note-name.ts'

const WIDTH = 480
const LEFT = 96
const RIGHT = 16
const TOP = 34
const LINE = 30

/** Each pair of a chord on a line: nought is the interval that is wanted; a full mark where it is made, an open one where it would be pure. */
export class LanChordPicture extends LitElement {
  static override properties: PropertyDeclarations = { pairs: { attribute: false } }
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
      .made {
        fill: var(--paper);
      }
      .pure {
        fill: none;
        stroke: var(--paper-soft);
        stroke-width: 1.5;
      }
      .legend {
        display: flex;
        flex-wrap: wrap;
        gap: 0.25rem 1.25rem;
        list-style: none;
        margin: 0.5rem 0 0;
        padding: 0;
      }
      .legend svg {
        display: inline-block;
        width: 1em;
        height: 1em;
        vertical-align: -0.1em;
        margin-right: 0.35em;
      }
    `,
  ]
  declare pairs: readonly ChordPair[]

  constructor() {
    super()
    this.pairs = []
  }

  override render(): TemplateResult | typeof nothing {
    const { pairs } = this
    if (pairs.length === 0) return nothing
    const scale = centsScale(Math.max(...pairs.flatMap(marksOf).map(Math.abs)), true)
    const height = TOP + LINE * pairs.length + 8
    return html`<figure>
      <svg
        viewBox="0 0 ${WIDTH} ${height}"
        role="img"
        aria-label="How far each interval of the chord is from the one that is wanted, and where the nearest simple ratio is; the table says the same"
      >
        ${scale.lines.map((cents) => upright(cents, scale, height))}
        ${pairs.map((pair, at) => line(pair, TOP + LINE * (at + 0.5), scale))}
      </svg>
      <ul class="legend">
        <li><svg viewBox="-6 -6 12 12">${made(0, 0)}</svg>made</li>
        <li><svg viewBox="-6 -6 12 12">${pure(0, 0)}</svg>simplest ratio near it</li>
      </ul>
      <figcaption>fig. 3, cents from the interval that is wanted.</figcaption>
    </figure>`
  }
}

/** Cents from the wanted interval of what is made, and of the ratio where there is one. */
function marksOf(pair: ChordPair): number[] {
  const ratio = ratioCents(pair)
  return [pair.made - pair.wanted, ...(ratio === undefined ? [] : [ratio])]
}

/** `off` is of the size of the interval, which is below nought where the lower key has the higher pitch. */
function ratioCents({ made: is, wanted, meets: [first] }: ChordPair): number | undefined {
  if (!first) return undefined
  return is - (is < 0 ? -1 : 1) * first.off - wanted
}

function xOf(cents: number, { limit }: CentsScale): number {
  return LEFT + ((cents + limit) / (2 * limit)) * (WIDTH - LEFT - RIGHT)
}

function upright(cents: number, scale: CentsScale, height: number): SVGTemplateResult {
  const x = xOf(cents, scale)
  return svg`<line class=${cents === 0 ? 'nought' : 'bar'} x1=${x} x2=${x} y1=${TOP - 8} y2=${height}></line>
    <text x=${x} y="16" text-anchor="middle">${cents > 0 ? '+' : ''}${String(cents).replace('-', '\u2212')}</text>`
}

function line(pair: ChordPair, y: number, scale: CentsScale): SVGTemplateResult {
  const ratio = ratioCents(pair)
  const [first] = pair.meets
  return svg`<text x="0" y=${y + 5}>${noteName(pair.low.key)}\u2013${noteName(pair.high.key)}</text>
    ${ratio === undefined || !first ? nothing : [pure(xOf(ratio, scale), y), ratioText(ratioWords(first), ratio, y, scale)]}
    ${made(xOf(pair.made - pair.wanted, scale), y)}`
}

/** Beside its mark, on the side where there is room. */
function ratioText(text: string, cents: number, y: number, scale: CentsScale): SVGTemplateResult {
  const isFar = cents > scale.limit * 0.7
  const x = xOf(cents, scale) + (isFar ? -9 : 9)
  return svg`<text x=${x} y=${y - 5} text-anchor=${isFar ? 'end' : 'start'}>${text}</text>`
}

function made(x: number, y: number): SVGTemplateResult {
  return svg`<circle class="made" cx=${x} cy=${y} r="4"></circle>`
}

function pure(x: number, y: number): SVGTemplateResult {
  return svg`<path class="pure" d="M${x} ${y - 5}l5 5l-5 5l-5 -5z"></path>`
}

customElements.define('lan-chord-picture', LanChordPicture)
