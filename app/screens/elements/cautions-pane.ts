import type { TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import { ask } from '../controllers/ask-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import { closePane } from '../controllers/pane-event.ts'
import { controls } from '../style/controls.ts'
import './side-pane.ts'

/** The cautions, in the way of real lamps until somebody has read them; later to be read again. */
export class LanCautionsPane extends LitElement {
  static override properties = { cautions: { attribute: false }, areRead: { attribute: false } }
  static override styles = [
    controls,
    css`
      p {
        margin: 0 0 0.75rem;
        font-size: 1.125rem;
      }
      .ways {
        display: flex;
        flex-wrap: wrap;
        gap: 0.75rem;
      }
    `,
  ]
  /** A paragraph each. */
  declare cautions: readonly string[]
  declare areRead: boolean
  readonly #lock = new LockController(this)

  constructor() {
    super()
    this.cautions = []
    this.areRead = false
  }

  override render(): TemplateResult {
    const paragraphs = html`<div>${this.cautions.map((caution) => html`<p>${caution}</p>`)}</div>`
    if (this.areRead)
      return html`<lan-side-pane heading="Cautions" closing="Close">${paragraphs}</lan-side-pane>`
    return html`<lan-side-pane heading="Before real lamps are lit" closing="Stay in memory">
      ${paragraphs}
      <div class="ways">
        <button ?disabled=${this.#lock.isOn} @click=${() => this.#light()}>
          I have read this. Use real lamps
        </button>
      </div>
    </lan-side-pane>`
  }

  #light(): void {
    ask(this, { type: 'cautions-read' })
    ask(this, { type: 'rig', rig: 'real' })
    closePane(this)
  }
}

customElements.define('lan-cautions-pane', LanCautionsPane)
