import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { ScaleWord } from '../../../src/contract/from-host.ts'
import { ask } from '../controllers/ask-event.ts'
import { propose } from '../controllers/edit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { controls } from '../style/controls.ts'
import { pitchesWords } from '../tuning/pitch-text.ts'
import { addScale } from '../tuning/tuning-edits.ts'

/** The scales that come with the house, with what each is good for; any of them is put into the show (`lan-edit`). */
export class LanScaleShelf extends LitElement {
  static override properties: PropertyDeclarations = {
    scales: { attribute: false },
    isReached: { type: Boolean },
  }
  static override styles = [
    controls,
    css`
      ul {
        list-style: none;
        margin: 0;
        padding: 0;
        display: grid;
        grid-template-columns: repeat(auto-fill, minmax(min(20rem, 100%), 1fr));
        gap: 0.75rem;
      }
      li {
        display: grid;
        gap: 0.4rem;
        align-content: start;
        border: 1px solid var(--bar);
        padding: 0.75rem;
      }
      li button {
        justify-self: start;
      }
      h4 {
        margin: 0;
        font: italic 500 1.0625rem var(--plate-serif);
      }
      p {
        margin: 0;
        overflow-wrap: anywhere;
      }
    `,
  ]
  declare scales: HouseView['scales']
  declare isReached: boolean
  readonly #lock = new LockController(this)
  #isAsked = false

  constructor() {
    super()
    this.scales = undefined
    this.isReached = false
  }

  override updated(): void {
    if (this.#isAsked || this.scales || !this.isReached) return
    this.#isAsked = true
    ask(this, { type: 'ask-scales' })
  }

  override render(): TemplateResult {
    const found = this.scales?.scales
    if (!found) return html`<p role="status">Asked the host for its scales.</p>`
    if (found.length === 0) return html`<p role="status">This house has no scales of its own.</p>`
    return html`<ul aria-label="Scales of the house">
      ${found.map(
        ({ id, about, scale }) =>
          html`<li>
            <h4>${scale.name || id}</h4>
            <p>${about}</p>
            <p class="soft">${pitchesWords(scale.pitches)}${scale.map ? ' With a key map.' : nothing}</p>
            <button
              type="button"
              ?disabled=${this.#lock.isOn}
              aria-label="Put ${scale.name || id} into the show"
              @click=${() => this.#add(id, scale)}
            >
              Put it into the show
            </button>
          </li>`,
      )}
    </ul>`
  }

  #add(id: string, scale: ScaleWord): void {
    propose(this, 'add', addScale({ ...scale, name: scale.name || id }, id))
  }
}

customElements.define('lan-scale-shelf', LanScaleShelf)
