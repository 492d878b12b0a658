import type { TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'
import type { LampRows, WorstRow } from '../tuning/pitch-rows.ts'
import { HEARD_CENTS, worstRows } from '../tuning/pitch-rows.ts'
import { fineHertz, octaveWords } from '../tuning/tuning-words.ts'
import { cents } from '../wording/figures.ts'
import { noteName } from '../wording/note-name.ts'

/** Every key of a part: what is asked, and what its lamp makes of it. */
export class LanPitchRows extends LitElement {
  static override properties = {
    lamps: { attribute: false },
    chosen: {},
    nameOf: { attribute: false },
  }
  static override styles = [
    controls,
    plate,
    css`
      .roll {
        max-height: 24rem;
      }
      table {
        width: 100%;
        font-size: 0.9375rem;
      }
      th,
      td {
        padding-right: 0.6rem;
      }
      .off td.number:last-child {
        color: var(--warn);
        font-weight: 600;
      }
      .refused {
        color: var(--grave);
      }
    `,
  ]
  declare lamps: readonly LampRows[]
  /** A lamp; empty: for each key the lamp that is farthest off. */
  declare chosen: string
  declare nameOf: (lamp: string) => string

  constructor() {
    super()
    this.lamps = []
    this.chosen = ''
    this.nameOf = (lamp) => lamp
  }

  override render(): TemplateResult {
    const isWorst = this.chosen === ''
    const lamps = isWorst ? this.lamps : this.lamps.filter(({ lamp }) => lamp === this.chosen)
    const what = isWorst ? 'the lamp that is farthest off' : this.nameOf(this.chosen)
    return html`<div class="roll" role="region" aria-label="Every key of the part" tabindex="0">
      <table>
        <caption class="unseen">
          Each key of the part on ${what}: the rate asked of it, the octaves it is moved, the rate after that,
          the rate the output really makes, and the cents between those two
        </caption>
        <thead>
          <tr>
            <th scope="col">Note</th>
            <th scope="col" class="number">Key</th>
            <th scope="col" class="number">Asked, Hz</th>
            <th scope="col">Octaves</th>
            <th scope="col" class="number">Hz</th>
            <th scope="col" class="number">Real Hz</th>
            <th scope="col" class="number">Cents</th>
            ${isWorst ? html`<th scope="col">Lamp</th>` : nothing}
          </tr>
        </thead>
        <tbody>
          ${worstRows(lamps).map((row) => this.#row(row, isWorst))}
        </tbody>
      </table>
    </div>`
  }

  #row({ row, lamp, refusedBy }: WorstRow, isWorst: boolean): TemplateResult {
    const isUnmapped = row.asked === null
    const isOff = Math.abs(row.cents ?? 0) > HEARD_CENTS
    const refused = refusedBy.map((one) => this.nameOf(one)).join(', ')
    return html`<tr class=${isOff ? 'off' : ''}>
      <th scope="row">${noteName(row.key)}</th>
      <td class="number">${row.key}</td>
      <td class="number">${row.asked === null ? 'no pitch' : fineHertz(row.asked)}</td>
      <td class=${row.octaves === null && !isUnmapped ? 'refused' : ''}>
        ${isUnmapped ? 'not mapped' : octaveWords(row.octaves)}
      </td>
      <td class="number">${row.hz === undefined ? '' : fineHertz(row.hz)}</td>
      <td class="number">${row.realHz === undefined ? '' : fineHertz(row.realHz)}</td>
      <td class="number">${row.cents === undefined ? '' : cents(row.cents)}</td>
      ${
        isWorst
          ? html`<td>
              ${isUnmapped ? 'no lamp' : row.cents === undefined ? 'every lamp' : this.nameOf(lamp)}${
                row.cents !== undefined && refused
                  ? html`<span class="refused">; refused by ${refused}</span>`
                  : nothing
              }
            </td>`
          : nothing
      }
    </tr>`
  }
}

customElements.define('lan-pitch-rows', LanPitchRows)
