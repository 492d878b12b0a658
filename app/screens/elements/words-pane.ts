import type { TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import { roomHref } from '../controllers/room-controller.ts'
import { controls } from '../style/controls.ts'
import { LEVEL_NAMES } from '../wording/gravest.ts'
import { sentence } from '../wording/sentence.ts'
import { portState, portTroubles } from '../wording/port-words.ts'
import './side-pane.ts'

/** All that was said, latest first. */
export class LanWordsPane extends LitElement {
  static override properties = { view: { attribute: false } }
  static override styles = [
    controls,
    css`
      ul {
        margin: 0;
        padding: 0;
        list-style: none;
      }
      li {
        padding: 0.6rem 0;
        border-top: 1px solid var(--bar);
        overflow-wrap: anywhere;
      }
      h3 {
        margin: 0.5rem 0;
      }
      .fault b {
        color: var(--grave);
      }
      .warning b {
        color: var(--warn);
      }
      .info b {
        color: var(--calm);
      }
      a {
        color: inherit;
      }
    `,
  ]
  declare view: HouseView

  constructor() {
    super()
    this.view = NOTHING_YET
  }

  override render(): TemplateResult {
    const troubles = portTroubles(this.view)
    const words = this.view.words.toReversed()
    return html`<lan-side-pane heading="What was said">
      ${
        troubles.length > 0
          ? html`<section>
              <h3>Ports that are not as they should be</h3>
              <ul>
                ${troubles.map(
                  ({ name, state, message }) =>
                    html`<li class="warning"><b>${name}: ${portState(state)}.</b> ${sentence(message)}</li>`,
                )}
              </ul>
              <p><a href=${roomHref('rig')}>To the rig, where ports are chosen</a></p>
            </section>`
          : nothing
      }
      <ul>
        ${words.map(
          ({ level, source, message }) =>
            html`<li class=${level}><b>${LEVEL_NAMES[level]}, ${source}.</b> ${sentence(message)}</li>`,
        )}
      </ul>
      ${words.length === 0 ? html`<p>Nothing yet.</p>` : nothing}
    </lan-side-pane>`
  }
}

customElements.define('lan-words-pane', LanWordsPane)
