import type { TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import { ask } from '../controllers/ask-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import { closePane, openPane } from '../controllers/pane-event.ts'
import { roomHref } from '../controllers/room-controller.ts'
import { controls } from '../style/controls.ts'
import './save-form.ts'
import './side-pane.ts'

/** The person wants to open a show; where from is up to the page. */
export class OpenShowEvent extends Event {
  static readonly type = 'lan-open-show'
  /** Chosen in this page; absent: the desktop's dialog is to ask. */
  readonly file: File | undefined

  constructor(file?: File) {
    super(OpenShowEvent.type, { bubbles: true, composed: true })
    this.file = file
  }
}

declare global {
  interface HTMLElementEventMap {
    'lan-open-show': OpenShowEvent
  }
}

/** The show as a file: where it is saved, and the ways to another one. */
export class LanFilePane extends LitElement {
  static override properties = { view: { attribute: false } }
  static override styles = [
    controls,
    css`
      section {
        display: grid;
        gap: 0.6rem;
        justify-items: start;
        padding-top: 1rem;
        border-top: 1px solid var(--bar);
      }
      p,
      ul {
        margin: 0;
        padding: 0;
        list-style: none;
        overflow-wrap: anywhere;
      }
      li {
        border-bottom: 1px solid var(--bar);
      }
      li button {
        border: 0;
        background: none;
        text-align: left;
        text-decoration: underline;
        overflow-wrap: anywhere;
      }
      form,
      label {
        display: grid;
        gap: 0.35rem;
        justify-items: start;
        width: 100%;
      }
      input {
        width: 100%;
      }
      .way {
        display: inline-flex;
        align-items: center;
        min-height: var(--touch);
        padding: 0.35em 0.8em;
        color: inherit;
        text-decoration: none;
        background: var(--pane-raised);
        border: 1px solid var(--bar-strong);
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
    return html`<lan-side-pane heading="Show file">
      ${show ? html`<p>${fileWords(show)}</p>` : nothing}
      ${
        welcome?.mayFiles
          ? html`<lan-save-form .file=${show?.file ?? null}></lan-save-form>${this.#open()}`
          : html`<p>Files are opened and saved on the machine that plays, not from here.</p>`
      }
      <section>
        <h3>Another show</h3>
        ${this.#lock.isOn ? html`<p>While the gig lock is on, no other show is opened.</p>` : html`<a class="way" href=${roomHref('start')} @click=${() => closePane(this)}>New show</a>`}
        <button ?disabled=${this.#lock.isOn} @click=${() => ask(this, { type: 'open-demo' })}>
          Open the demo
        </button>
      </section>
      ${
        (welcome?.cautions.length ?? 0) > 0
          ? html`<section>
              <h3>Cautions</h3>
              <button @click=${() => openPane(this, 'cautions')}>Read the cautions</button>
            </section>`
          : nothing
      }
    </lan-side-pane>`
  }

  #open(): TemplateResult {
    const { recent } = this.view
    return html`<section>
      <h3>Open</h3>
      ${
        window.lanthorn
          ? html`<button ?disabled=${this.#lock.isOn} @click=${() => this.dispatchEvent(new OpenShowEvent())}>
              Open a show file
            </button>`
          : this.#openInBrowser()
      }
      <p class="soft">Or drop a .json file anywhere on this page.</p>
      ${
        recent.length > 0
          ? html`<h3>Opened before</h3>
              <ul>
                ${recent.map(
                  (path) =>
                    html`<li>
                      <button
                        ?disabled=${this.#lock.isOn}
                        @click=${() => ask(this, { type: 'open-file', path })}
                      >
                        ${path}
                      </button>
                    </li>`,
                )}
              </ul>`
          : nothing
      }
    </section>`
  }

  #openInBrowser(): TemplateResult {
    return html`<label
        >A show file from this browser
        <input
          type="file"
          ?disabled=${this.#lock.isOn}
          accept=".json,application/json"
          @change=${(event: Event) => this.#chosen(event)}
      /></label>
      <form @submit=${(event: SubmitEvent) => this.#submit(event)}>
        <label
          >Or by its path, on the machine that plays
          <input
            name="path"
            ?disabled=${this.#lock.isOn}
            required
            maxlength="4096"
            spellcheck="false"
            placeholder="/home/me/shows/evening.json"
        /></label>
        <button ?disabled=${this.#lock.isOn}>Open it</button>
      </form>`
  }

  #chosen({ target }: Event): void {
    const file = target instanceof HTMLInputElement ? target.files?.[0] : undefined
    if (file) this.dispatchEvent(new OpenShowEvent(file))
  }

  #submit(event: SubmitEvent): void {
    event.preventDefault()
    const path = this.renderRoot.querySelector<HTMLInputElement>('input[name=path]')?.value.trim() ?? ''
    if (path !== '') ask(this, { type: 'open-file', path })
  }
}

function fileWords({ file, isSaved, isDemo }: NonNullable<HouseView['show']>): string {
  const where = file === null ? (isDemo ? 'The demo, in no file of yours.' : 'Not in a file yet.') : file
  return isSaved ? where : `${where} There are changes that are not saved.`
}

customElements.define('lan-file-pane', LanFilePane)
