import type { TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import { LockController } from '../controllers/gig-lock.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import { controls } from '../style/controls.ts'
import './save-form.ts'
import './side-pane.ts'

/** Go on, and let the changes go that are not saved. */
export class GoOnEvent extends Event {
  static readonly type = 'lan-go-on'

  constructor() {
    super(GoOnEvent.type, { bubbles: true, composed: true })
  }
}

declare global {
  interface HTMLElementEventMap {
    'lan-go-on': GoOnEvent
  }
}

/** In the way of another show while this one has changes that are not saved. Once it is saved the page goes on by itself. */
export class LanUnsavedPane extends LitElement {
  static override properties = { view: { attribute: false } }
  static override styles = [
    controls,
    css`
      p {
        margin: 0;
      }
    `,
  ]
  declare view: HouseView
  readonly #lock = new LockController(this)

  constructor() {
    super()
    this.view = NOTHING_YET
  }

  override render(): TemplateResult {
    const { show, welcome } = this.view
    return html`<lan-side-pane heading="This show is not saved" closing="Stay with it">
      <p><i>${show?.show.title ?? ''}</i> has changes that are not saved. Another show takes its place.</p>
      ${welcome?.mayFiles ? html`<lan-save-form .file=${show?.file ?? null}></lan-save-form>` : html``}
      <button ?disabled=${this.#lock.isOn} @click=${() => this.dispatchEvent(new GoOnEvent())}>
        Go on without saving
      </button>
    </lan-side-pane>`
  }
}

customElements.define('lan-unsaved-pane', LanUnsavedPane)
