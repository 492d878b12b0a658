import type { PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import { ask } from '../controllers/ask-event.ts'
import { controls } from '../style/controls.ts'

const SAID_FOR_MS = 5_000
const ANSWERS_WITHIN_MS = 1_500

/** The key that darkens every lamp. It is on every room, in the same place, and says whether it was done. */
export class LanDarkKey extends LitElement {
  static override properties = {
    darks: { type: Number },
    isReached: { type: Boolean },
    word: { state: true },
  }
  static override styles = [
    controls,
    css`
      :host {
        display: flex;
        align-items: center;
        gap: 0.75rem;
      }
      button {
        display: grid;
        align-content: center;
        justify-items: center;
        width: 9rem;
        height: 76px;
        padding: 0;
        background: #000;
        border: 3px double var(--paper);
        color: var(--paper);
        line-height: 1.1;
      }
      button:hover:not(:disabled) {
        border-color: var(--paper);
        background: var(--paper);
        color: #000;
      }
      b {
        font-size: 1.75rem;
        font-weight: 700;
        letter-spacing: 0.04em;
      }
      small {
        font-size: 0.875rem;
      }
      p {
        margin: 0;
        max-width: 17rem;
        text-align: right;
        font-size: 1.125rem;
        line-height: 1.2;
      }
    `,
  ]
  /** How many dark-alls were done, as the view counts them. */
  declare darks: number
  declare isReached: boolean
  declare word: string
  #isAsked = false
  #timer: ReturnType<typeof setTimeout> | undefined

  constructor() {
    super()
    this.darks = 0
    this.isReached = false
    this.word = ''
  }

  override render(): TemplateResult {
    return html`<p role="status">${this.word}</p>
      <button aria-keyshortcuts="F8" @click=${() => this.press()}>
        <b>Dark</b><small>all lamps, F8</small>
      </button>`
  }

  override willUpdate(changed: PropertyValues<this>): void {
    const before = changed.get('darks')
    if (before === undefined || this.darks <= before) return
    this.#isAsked = false
    this.#say('Done. Every output was told to go dark.')
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    clearTimeout(this.#timer)
  }

  /** As if it were clicked. */
  press(): void {
    ask(this, { type: 'dark-all' })
    if (!this.isReached) return this.#say('Not sent: the host is not reached from here.')
    this.#isAsked = true
    clearTimeout(this.#timer)
    this.#timer = setTimeout(() => this.#waited(), ANSWERS_WITHIN_MS)
  }

  #waited(): void {
    if (this.#isAsked) this.#say('Asked, but the engine has not answered yet.')
  }

  #say(word: string): void {
    this.word = word
    clearTimeout(this.#timer)
    this.#timer = setTimeout(() => {
      this.word = ''
    }, SAID_FOR_MS)
  }
}

customElements.define('lan-dark-key', LanDarkKey)
