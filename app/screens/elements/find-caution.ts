import type { TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import { controls } from '../style/controls.ts'

/**
 * A word of caution before the first lamp is lit to be found; `answer` tells whether to go on. It is not modal: nothing may keep the Dark key from being
 * pressed.
 */
export class LanFindCaution extends LitElement {
  static override properties = { lamp: {}, answer: { attribute: false } }
  static override styles = [
    controls,
    css`
      dialog {
        background: var(--pane);
        color: var(--paper);
        border: 2px solid var(--light);
        position: fixed;
        inset: 0;
        margin: auto;
        height: fit-content;
        width: calc(100% - 2rem);
        z-index: 5;
        max-width: 34rem;
        padding: 1.5rem;
      }
      p {
        margin: 0.8em 0;
      }
      .answers {
        display: flex;
        gap: 0.8rem;
        justify-content: flex-end;
        margin-top: 1.2rem;
      }
    `,
  ]
  declare lamp: string
  declare answer: (isYes: boolean) => void

  constructor() {
    super()
    this.lamp = ''
    this.answer = () => {}
  }

  #from: HTMLElement | undefined

  override firstUpdated(): void {
    this.#from = focused()
    this.renderRoot.querySelector('dialog')?.show()
  }

  #answer(isYes: boolean): void {
    this.#from?.focus()
    this.answer(isYes)
  }

  override render(): TemplateResult {
    return html`<dialog
      aria-labelledby="title"
      @keydown=${(event: KeyboardEvent) => event.key === 'Escape' && this.#answer(false)}
    >
      <h2 id="title">Before a lamp is lit</h2>
      <p>
        <em>${this.lamp}</em> will be lit steadily for up to two seconds. Do not look into it, and see that
        nobody else does.
      </p>
      <p>
        Check first that it is wired as its maker, your local codes and whoever is licensed for it ask, and
        that nothing lies near it that may burn. Press the same button again to make it dark.
      </p>
      <p class="soft">This is said once until the page is closed.</p>
      <div class="answers">
        <button autofocus @click=${() => this.#answer(false)}>Not now</button>
        <button @click=${() => this.#answer(true)}>Light ${this.lamp}</button>
      </div>
    </dialog>`
  }
}

/** What has the focus, in whatever shadow it is. */
function focused(): HTMLElement | undefined {
  let element = document.activeElement
  while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement
  return element instanceof HTMLElement ? element : undefined
}

customElements.define('lan-find-caution', LanFindCaution)
