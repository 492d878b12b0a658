import type { TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import type { LampId } from '../../../src/domain/ids.ts'
import { FLASHES_ALLOWED, SEEN_STEADY_HZ } from '../../../src/domain/flash-guard.ts'
import { CONCERN_BAND } from '../../../src/domain/pulse-rate.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'

type Flash = NonNullable<HouseView['guards']>['flash']

/** What was counted of each lamp since the song began, the worst first. */
export class LanFlashTable extends LitElement {
  static override properties = { flash: { attribute: false }, names: { attribute: false } }
  static override styles = [
    controls,
    plate,
    css`
      :host {
        display: block;
        min-width: 0;
      }
      p {
        margin: 0 0 0.6rem;
        max-width: 80ch;
      }
      thead th {
        vertical-align: bottom;
      }
    `,
  ]
  declare flash: Flash | undefined
  declare names: readonly { readonly id: LampId; readonly name: string }[]

  constructor() {
    super()
    this.flash = undefined
    this.names = []
  }

  override render(): TemplateResult {
    const { flash } = this
    if (!flash) return html`<p class="soft">Nothing is counted yet.</p>`
    const [low, high] = CONCERN_BAND
    return html`<p class="soft">
        Since the song began. WCAG 2.2 SC 2.3.1 allows ${FLASHES_ALLOWED} flashes in any one second; ${low} to
        ${high} Hz is the band of most concern, and some see flicker up to ${SEEN_STEADY_HZ} Hz (epilepsy
        charities, second-hand). Counts, no verdict.
      </p>
      <div class="roll" tabindex="0" role="region" aria-label="How each lamp flashes, the worst first">
        <table>
          <thead>
            <tr>
              <th scope="col">Lamp</th>
              <th scope="col" class="number">Last second</th>
              <th scope="col" class="number">Most in a second</th>
              <th scope="col" class="number">${low} to ${high} Hz, s</th>
              <th scope="col" class="number">Under ${SEEN_STEADY_HZ} Hz, s</th>
            </tr>
          </thead>
          <tbody>
            ${this.#row('Any of them, or all as one light', flash)}
            ${flash.lamps.map((lamp) => this.#row(this.#name(lamp.lamp), lamp))}
          </tbody>
        </table>
      </div>`
  }

  #row(name: string, counts: Omit<Flash['lamps'][number], 'lamp'>): TemplateResult {
    return html`<tr>
      <th scope="row">${name}</th>
      <td class="number">${counts.lastSecond}</td>
      <td class="number">${counts.perSecondMax}</td>
      <td class="number">${counts.bandSeconds.toFixed(1)}</td>
      <td class="number">${counts.under60Seconds.toFixed(1)}</td>
    </tr>`
  }

  #name(id: LampId): string {
    return this.names.find((lamp) => lamp.id === id)?.name ?? id
  }
}

customElements.define('lan-flash-table', LanFlashTable)
