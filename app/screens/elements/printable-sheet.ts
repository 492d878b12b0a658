import type { PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import { ask } from '../controllers/ask-event.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { PageOffer, pageLink } from '../controllers/page-offer.ts'
import { controls } from '../style/controls.ts'

/** The show on paper: asks the host for the page, and offers it as a file. */
export class LanPrintableSheet extends LitElement {
  static override properties = {
    sheet: { attribute: false },
    isReached: { type: Boolean },
  }
  static override styles = [
    controls,
    pageLink,
    css`
      :host {
        display: block;
      }
      p {
        margin: 0 0 0.7rem;
        max-width: 70ch;
      }
      .row {
        display: flex;
        flex-wrap: wrap;
        gap: 0.75rem 1rem;
        align-items: center;
      }
    `,
  ]
  declare sheet: HouseView['sheet']
  declare isReached: boolean
  readonly #page = new PageOffer(this)

  constructor() {
    super()
    this.sheet = undefined
    this.isReached = false
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('sheet')) this.#page.see(this.sheet)
  }

  override render(): TemplateResult {
    const page = this.#page
    return html`<p class="soft">
        The set list, then a sheet for each song: tuning, parts, lamps, notes, and how to come to it.
      </p>
      <div class="row">
        <button ?disabled=${!this.isReached} @click=${() => this.#ask()}>
          ${page.isMade ? 'Make it anew' : 'Make the sheet'}
        </button>
        ${page.link(this.sheet?.name ?? '', this.sheet?.name ?? '')}
        <p role="status">${page.isAsked ? 'Asked the host for it.' : page.isMade ? 'It is made.' : ''}</p>
      </div>
      ${page.advice()}`
  }

  #ask(): void {
    this.#page.ask(this.sheet)
    ask(this, { type: 'ask-sheet' })
  }
}

customElements.define('lan-printable-sheet', LanPrintableSheet)
