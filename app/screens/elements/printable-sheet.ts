import type { PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import { ask } from '../controllers/ask-event.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { controls } from '../style/controls.ts'

/** The show on paper: asks the host for the page, and offers it as a file. A page of the house opens no other pages, so it is printed from the file. */
export class LanPrintableSheet extends LitElement {
  static override properties = {
    sheet: { attribute: false },
    isReached: { type: Boolean },
    address: { state: true },
    isAsked: { state: true },
  }
  static override styles = [
    controls,
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
      a {
        display: inline-flex;
        align-items: center;
        min-height: var(--touch);
        padding: 0.35em 0.8em;
        color: inherit;
        background: var(--pane-raised);
        border: 1px solid var(--bar-strong);
        text-underline-offset: 0.2em;
        overflow-wrap: anywhere;
      }
    `,
  ]
  declare sheet: HouseView['sheet']
  declare isReached: boolean
  /** Where the page can be had in this browser. */
  declare private address: string | undefined
  declare private isAsked: boolean
  /** The sheet that was there before one was asked for: of a show that may have changed. */
  #before: HouseView['sheet']

  constructor() {
    super()
    this.sheet = undefined
    this.isReached = false
    this.isAsked = false
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (!changed.has('sheet') || !this.isAsked || !this.sheet || this.sheet === this.#before) return
    this.isAsked = false
    this.#forget()
    this.address = URL.createObjectURL(new Blob([this.sheet.html], { type: 'text/html' }))
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    this.#forget()
    this.isAsked = false
  }

  override render(): TemplateResult {
    const { address, sheet } = this
    return html`<p class="soft">
        The set list, then a sheet for each song: tuning, parts, lamps, notes, and how to come to it.
      </p>
      <div class="row">
        <button ?disabled=${!this.isReached} @click=${() => this.#ask()}>
          ${address ? 'Make it anew' : 'Make the sheet'}
        </button>
        ${address && sheet ? html`<a href=${address} download=${sheet.name}>Save ${sheet.name}</a>` : nothing}
        <p role="status">${this.isAsked ? 'Asked the host for it.' : address ? 'It is made.' : ''}</p>
      </div>
      ${
        address
          ? html`<p class="soft">
              To print it, save it, open the file in a browser and print from there: this page may not open it
              itself.
            </p>`
          : nothing
      }`
  }

  #ask(): void {
    this.#before = this.sheet
    this.isAsked = true
    ask(this, { type: 'ask-sheet' })
  }

  #forget(): void {
    if (this.address !== undefined) URL.revokeObjectURL(this.address)
    this.address = undefined
  }
}

customElements.define('lan-printable-sheet', LanPrintableSheet)
