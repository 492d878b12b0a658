import type { PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import { ask } from '../controllers/ask-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import { controls } from '../style/controls.ts'
import type { LanSidePane } from './side-pane.ts'
import './side-pane.ts'

type Recovery = HouseView['recoveries'][number]

/** Work that was not saved when the app ended, or that was put aside: to be opened, or thrown away after a second question. */
export class LanRecoveriesPane extends LitElement {
  static override properties = { view: { attribute: false }, dropping: { state: true } }
  static override styles = [
    controls,
    css`
      ul,
      p {
        margin: 0;
        padding: 0;
        list-style: none;
        overflow-wrap: anywhere;
      }
      li {
        display: grid;
        gap: 0.4rem;
        padding: 0.9rem 0;
        border-top: 1px solid var(--bar);
      }
      h3 {
        font-style: italic;
        font-size: 1.25rem;
      }
      .buttons {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
        margin-top: 0.3rem;
      }
    `,
  ]
  declare view: HouseView
  /** Id of what waits to be thrown away. */
  declare private dropping: string | undefined
  readonly #lock = new LockController(this)

  constructor() {
    super()
    this.view = NOTHING_YET
  }

  override render(): TemplateResult {
    const { recoveries } = this.view
    return html`<lan-side-pane heading="Work that was not saved">
      ${
        recoveries.length === 0
          ? html`<p role="status">There is none left.</p>`
          : html`<p>
                What is opened takes the place of the show that is open now. Nothing here goes by itself.
              </p>
              ${this.#lock.isOn ? html`<p>While the gig lock is on, it waits here.</p>` : ''}
              <ul>
                ${recoveries.map((one) => this.#recovery(one))}
              </ul>`
      }
    </lan-side-pane>`
  }

  /** What was thrown away had the focus. */
  override willUpdate(changed: PropertyValues<this>): void {
    const before = changed.get('view')
    if (!before || before.recoveries === this.view.recoveries) return
    const { activeElement } = document
    void this.updateComplete.then(() => {
      const isLost = document.activeElement !== activeElement || activeElement === document.body
      if (isLost) this.renderRoot.querySelector<LanSidePane>('lan-side-pane')?.focus()
    })
  }

  #recovery(recovery: Recovery): TemplateResult {
    const { id, title, file, at, message } = recovery
    const isShut = this.#lock.isOn
    return html`<li>
      <h3>${title}</h3>
      <p class="soft">
        <time datetime=${at}>${whenWords(at)}</time>, ${file === null ? 'never in a file' : file}
      </p>
      <p>${message}</p>
      ${
        this.dropping === id
          ? html`<div class="buttons" role="group" aria-label="Throw ${title} away?">
              <button ?disabled=${isShut} @click=${() => this.#drop(id)}>Yes, throw it away</button>
              <button autofocus @click=${() => void (this.dropping = undefined)}>Keep it</button>
            </div>`
          : html`<div class="buttons">
              <button
                ?disabled=${isShut}
                aria-label="Open ${title}, ${whenWords(at)}"
                @click=${() => ask(this, { type: 'recovery', id, do: 'open' })}
              >
                Open
              </button>
              <button
                ?disabled=${isShut}
                aria-label="Throw away ${title}, ${whenWords(at)}"
                @click=${() => this.#asked(id)}
              >
                Throw away
              </button>
            </div>`
      }
    </li>`
  }

  #asked(id: string): void {
    this.dropping = id
    void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>('[autofocus]')?.focus())
  }

  #drop(id: string): void {
    this.dropping = undefined
    ask(this, { type: 'recovery', id, do: 'drop' })
  }
}

/** An ISO 8601 time as people here write it; as it came where it is none. */
function whenWords(at: string): string {
  const time = new Date(at)
  return Number.isNaN(time.getTime())
    ? at
    : time.toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'medium' })
}

customElements.define('lan-recoveries-pane', LanRecoveriesPane)
