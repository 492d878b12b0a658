import type { TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import { controls } from '../style/controls.ts'
import { many } from '../wording/figures.ts'
import { sentence } from '../wording/sentence.ts'
import './side-pane.ts'

/** How a tablet or another machine gets these screens: where to go and what to type there. */
export class LanScreensPane extends LitElement {
  static override properties = { view: { attribute: false } }
  static override styles = [
    controls,
    css`
      p,
      dl,
      dd {
        margin: 0;
      }
      dt {
        color: var(--paper-soft);
      }
      dd {
        font-size: 1.375rem;
        overflow-wrap: anywhere;
        user-select: all;
        margin-bottom: 1rem;
      }
      .code {
        font-size: 2.5rem;
        font-weight: 700;
        letter-spacing: 0.12em;
        font-variant-numeric: tabular-nums;
      }
    `,
  ]
  declare view: HouseView

  constructor() {
    super()
    this.view = NOTHING_YET
  }

  override render(): TemplateResult {
    const { remote } = this.view
    return html`<lan-side-pane heading="Second screen">
      ${
        remote
          ? html`<p>Open one of these addresses on a device in the same network, and type the code there.</p>
              <dl>
                <dt>${remote.addresses.length === 1 ? 'Address' : 'Addresses'}</dt>
                ${
                  remote.addresses.length > 0
                    ? remote.addresses.map((address) => html`<dd>${address}</dd>`)
                    : html`<dd>This machine is in no network.</dd>`
                }
                <dt>Code for the next one</dt>
                <dd class="code">${remote.code}</dd>
              </dl>
              <p role="status">
                ${sentence(`${many(remote.screens, 'screen')} came in from elsewhere, ${many(remote.refused, 'try', 'tries')} turned away`)}
              </p>
              <p class="soft">
                Whoever has the code can play, edit and darken this show. Give it to nobody else.
              </p>`
          : html`<p>This host lets no other device in.</p>`
      }
    </lan-side-pane>`
  }
}

customElements.define('lan-screens-pane', LanScreensPane)
