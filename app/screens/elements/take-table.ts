import type { TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import type { TakeRow } from '../checks/take-rows.ts'
import { TAKE_COLUMNS } from '../checks/take-rows.ts'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'

/** What was counted in takes: a row each, worst song first. */
export class LanTakeTable extends LitElement {
  static override properties = { rows: { attribute: false } }
  static override styles = [
    controls,
    plate,
    css`
      :host {
        display: block;
        min-width: 0;
      }
      table {
        font-size: 0.9375rem;
      }
      tbody th {
        color: var(--paper);
        font-family: var(--plate-serif);
        font-style: italic;
        font-weight: 500;
        min-width: 9rem;
      }
      tbody th span {
        display: block;
        font: normal 0.8125rem var(--plate-sans);
        color: var(--paper-soft);
        overflow-wrap: anywhere;
      }
      thead th {
        min-width: 4rem;
        vertical-align: bottom;
      }
    `,
  ]
  declare rows: readonly TakeRow[]

  constructor() {
    super()
    this.rows = []
  }

  override render(): TemplateResult {
    return html`<div
      class="roll"
      tabindex="0"
      role="region"
      aria-label="Figures of each take, the worst first"
    >
      <table>
        <thead>
          <tr>
            <th scope="col">Song, take</th>
            ${TAKE_COLUMNS.map((head) => html`<th scope="col" class="number">${head}</th>`)}
          </tr>
        </thead>
        <tbody>
          ${this.rows.map((row) => this.#row(row))}
        </tbody>
      </table>
    </div>`
  }

  #row({ title, take, cells }: TakeRow): TemplateResult {
    return html`<tr>
      <th scope="row">${title} <span>${take}</span></th>
      ${
        typeof cells === 'string'
          ? html`<td colspan=${TAKE_COLUMNS.length}>${cells}</td>`
          : cells.map((cell) => html`<td class="number">${cell}</td>`)
      }
    </tr>`
  }
}

customElements.define('lan-take-table', LanTakeTable)
