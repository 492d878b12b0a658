import type { TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import { closePane } from '../controllers/pane-event.ts'
import { controls } from '../style/controls.ts'

/** A pane of glass beside the room. It is never modal: the room behind and the Dark key stay in reach. Escape closes it, and the focus goes back to where it was. */
export class LanSidePane extends LitElement {
  static override properties = { heading: {}, closing: {} }
  static override styles = [
    controls,
    css`
      :host {
        display: block;
        overflow: auto;
        background: var(--pane);
        border-right: 1px solid var(--bar-strong);
        border-bottom: 1px solid var(--bar-strong);
      }
      section {
        display: flex;
        flex-direction: column;
        gap: 1rem;
        padding: 1.25rem 1.25rem 1.5rem;
      }
      .top {
        display: flex;
        gap: 1rem;
        align-items: start;
        justify-content: space-between;
      }
      h2 {
        padding-top: 0.3em;
        font-size: 1.6rem;
      }
    `,
  ]
  declare heading: string
  /** What the button that closes it says. */
  declare closing: string
  #before: Element | null = null

  constructor() {
    super()
    this.heading = ''
    this.closing = 'Close'
  }

  override render(): TemplateResult {
    return html`<section
      role="dialog"
      aria-labelledby="heading"
      @keydown=${(event: KeyboardEvent) => this.#key(event)}
    >
      <div class="top">
        <h2 id="heading" tabindex="-1">${this.heading}</h2>
        <button @click=${() => closePane(this)}>${this.closing}</button>
      </div>
      <slot></slot>
    </section>`
  }

  override connectedCallback(): void {
    super.connectedCallback()
    this.#before = focused()
  }

  override firstUpdated(): void {
    this.focus()
  }

  /** To its heading, as when it was opened: for what in it had the focus and is gone. */
  override focus(): void {
    this.renderRoot.querySelector<HTMLElement>('#heading')?.focus()
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    if (this.#before instanceof HTMLElement && this.#before.isConnected) this.#before.focus()
  }

  #key(event: KeyboardEvent): void {
    if (event.key !== 'Escape' || event.defaultPrevented) return
    event.preventDefault()
    closePane(this)
  }
}

/** What has the focus, inside shadows too. */
function focused(): Element | null {
  let element = document.activeElement
  while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement
  return element
}

customElements.define('lan-side-pane', LanSidePane)
