import type { PropertyValues, SVGTemplateResult, TemplateResult } from 'lit'
import { css, html, LitElement, svg } from 'lit'
import type { Duty } from '../../../src/domain/units.ts'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'
import type { NamedDuty } from '../tuning/duties-in-use.ts'
import type { Partial } from '../tuning/partials.ts'
import { PARTIALS, partialsOf, partialsWords } from '../tuning/partials.ts'
import { percent } from '../wording/figures.ts'

const WIDTH = 480
const HEIGHT = 230
const LEFT = 48
const TOP = 16
const FLOOR = HEIGHT - 28
/** The lowest that is drawn. */
const DEEPEST_DB = -50
const TRIED = 'tried'

/** What a duty sounds like: its partials as bars. Which duty: one that the part uses, one that a lamp has now, or one to try. */
export class LanPartialsPicture extends LitElement {
  static override properties = {
    duties: { attribute: false },
    chosen: { state: true },
    tried: { state: true },
    isAbsolute: { state: true },
  }
  static override styles = [
    controls,
    plate,
    css`
      fieldset {
        border: 0;
        padding: 0;
        margin: 0;
        min-width: 0;
      }
      legend {
        padding: 0;
        color: var(--paper-soft);
        font-size: 0.875rem;
        margin-bottom: 0.3rem;
      }
      .choices {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
      }
      .try {
        flex: 1 1 14rem;
      }
      .try label {
        display: flex;
        align-items: center;
        gap: 0.75rem;
        min-height: var(--touch);
      }
      .try input {
        flex: 1;
        min-width: 8rem;
        padding: 0;
        accent-color: var(--light);
      }
      .tools {
        margin-bottom: 1rem;
      }
      .bar {
        stroke: var(--bar);
      }
      .partial {
        fill: var(--paper-soft);
      }
      .gone {
        fill: none;
        stroke: var(--paper);
        stroke-width: 1.5;
      }
    `,
  ]
  /** The first is shown at first. */
  declare duties: readonly NamedDuty[]
  declare private chosen: string
  declare private tried: Duty
  declare private isAbsolute: boolean

  constructor() {
    super()
    this.duties = []
    this.chosen = ''
    this.tried = 0.5
    this.isAbsolute = false
  }

  override willUpdate(changed: PropertyValues<this>): void {
    // A lamp that goes dark leaves the list; what it sounded like is still looked at.
    const before = changed.get('duties')?.find(({ id }) => id === this.chosen)
    if (before && !this.duties.some(({ id }) => id === before.id)) {
      this.tried = before.duty
      this.chosen = TRIED
    }
  }

  get #duty(): Duty {
    if (this.chosen === TRIED) return this.tried
    return (this.duties.find(({ id }) => id === this.chosen) ?? this.duties[0])?.duty ?? this.tried
  }

  override render(): TemplateResult {
    const duty = this.#duty
    const partials = partialsOf(duty)
    const shown = this.chosen === '' ? (this.duties[0]?.id ?? TRIED) : this.chosen
    return html`<div class="tools">
        <fieldset>
          <legend>Duty in use</legend>
          <div class="choices">
            ${this.duties.map(
              ({ id, name, duty: one }) =>
                html`<button type="button" aria-pressed=${id === shown} @click=${() => (this.chosen = id)}>
                  ${name} ${percent(one)}
                </button>`,
            )}
          </div>
        </fieldset>
        <div class="try">
          <label>
            Try
            <input
              type="range"
              min="0.01"
              max="0.99"
              step="0.005"
              .value=${String(duty)}
              aria-valuetext=${percent(duty)}
              @input=${(event: InputEvent) => this.#try(Number((event.target as HTMLInputElement).value))}
            />
            <output class="figures">${percent(duty)}</output>
          </label>
        </div>
        <fieldset>
          <legend>Try a plain fraction</legend>
          <div class="choices">
            ${[2, 3, 4, 5, 8].map(
              (part) =>
                html`<button
                  type="button"
                  aria-pressed=${shown === TRIED && duty === 1 / part}
                  @click=${() => this.#try(1 / part)}
                >
                  1/${part}
                </button>`,
            )}
          </div>
        </fieldset>
        <fieldset>
          <legend>Height of a bar</legend>
          <div class="choices">
            <button type="button" aria-pressed=${!this.isAbsolute} @click=${() => (this.isAbsolute = false)}>
              dB below the first
            </button>
            <button type="button" aria-pressed=${this.isAbsolute} @click=${() => (this.isAbsolute = true)}>
              share of full light
            </button>
          </div>
        </fieldset>
      </div>
      <figure>
        <svg
          viewBox="0 0 ${WIDTH} ${HEIGHT}"
          role="img"
          aria-label="The first ${PARTIALS} partials at a duty of ${percent(duty)}. ${partialsWords(duty)}"
        >
          ${this.isAbsolute ? sizeLines() : decibelLines()}
          ${partials.map((one) => bar(one, this.isAbsolute))}
        </svg>
        <figcaption>
          fig. 2, partials 1 to ${PARTIALS} of a pulse that is on for ${percent(duty)} of its period:
          2/(n&pi;) sin(n&pi;D)
        </figcaption>
      </figure>
      <p>${partialsWords(duty)}</p>
      <details>
        <summary>fig. 2 as a table</summary>
        <div class="roll">
          <table>
            <caption class="unseen">
              Partials at a duty of ${percent(duty)}
            </caption>
            <thead>
              <tr>
                <th scope="col" class="number">Partial</th>
                <th scope="col" class="number">Share of full light</th>
                <th scope="col" class="number">dB below the first</th>
              </tr>
            </thead>
            <tbody>
              ${partials.map(
                ({ n, size, below }) =>
                  html`<tr>
                    <th scope="row" class="number">${n}</th>
                    <td class="number">${size === 0 ? 'none' : size.toFixed(5)}</td>
                    <td class="number">${size === 0 ? 'vanishes' : Math.abs(below).toFixed(1)}</td>
                  </tr>`,
              )}
            </tbody>
          </table>
        </div>
      </details>`
  }

  #try(duty: Duty): void {
    this.tried = duty
    this.chosen = TRIED
  }
}

function xOf(n: number): number {
  return LEFT + ((n - 0.5) * (WIDTH - LEFT)) / PARTIALS
}

/** `share`: 0 at the floor to 1 at the top. */
function yOf(share: number): number {
  return FLOOR - Math.min(1, Math.max(0, share)) * (FLOOR - TOP)
}

const FULL = 2 / Math.PI

function shareOf({ size, below }: Partial, isAbsolute: boolean): number {
  return isAbsolute ? size / FULL : 1 - below / DEEPEST_DB
}

function bar(partial: Partial, isAbsolute: boolean): SVGTemplateResult {
  const x = xOf(partial.n)
  const y = yOf(shareOf(partial, isAbsolute))
  const figure =
    partial.size === 0
      ? svg`<circle class="gone" cx=${x} cy=${FLOOR - 7} r="5"></circle>`
      : svg`<rect class="partial" x=${x - 9} y=${y} width="18" height=${Math.max(1, FLOOR - y)}></rect>`
  return svg`${figure}<text x=${x} y=${HEIGHT - 8} text-anchor="middle">${partial.n}</text>`
}

function level(share: number, text: string): SVGTemplateResult {
  const y = yOf(share)
  return svg`<line class="bar" x1=${LEFT} x2=${WIDTH} y1=${y} y2=${y}></line>
    <text x=${LEFT - 8} y=${y + 5} text-anchor="end">${text}</text>`
}

function decibelLines(): SVGTemplateResult {
  return svg`${[0, -10, -20, -30, -40, -50].map((db) => level(1 - db / DEEPEST_DB, String(db).replace('-', '\u2212')))}`
}

function sizeLines(): SVGTemplateResult {
  return svg`${[0, 0.2, 0.4, 0.6].map((size) => level(size / FULL, String(size)))}`
}

customElements.define('lan-partials-picture', LanPartialsPicture)
