import type { TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import { ask } from '../controllers/ask-event.ts'
import { controls } from '../style/controls.ts'

/** Saving: to the show's own file, or to another. The desktop app asks for the place with the system's dialog, a browser has it typed. */
export class LanSaveForm extends LitElement {
  static override properties = { file: {} }
  static override styles = [
    controls,
    css`
      :host {
        display: grid;
        gap: 0.75rem;
        justify-items: start;
      }
      form {
        display: grid;
        gap: 0.5rem;
        width: 100%;
        justify-items: start;
      }
      label {
        display: grid;
        gap: 0.25rem;
        width: 100%;
      }
      input {
        width: 100%;
      }
    `,
  ]
  /** Where the show was saved before. */
  declare file: string | null

  constructor() {
    super()
    this.file = null
  }

  override render(): TemplateResult {
    const { file } = this
    return html`${
      file === null ? nothing : html`<button @click=${() => ask(this, { type: 'save' })}>Save</button>`
    }
    ${
      window.lanthorn
        ? html`<button @click=${() => window.lanthorn?.saveDialog()}>
            ${file === null ? 'Save' : 'Save as another file'}
          </button>`
        : html`<form @submit=${(event: SubmitEvent) => this.#submit(event)}>
            <label
              >${file === null ? 'Save as, on the machine that plays' : 'Save as another file'}
              <input
                name="path"
                required
                maxlength="4096"
                spellcheck="false"
                placeholder="/home/me/shows/evening.json"
            /></label>
            <button>Save there</button>
          </form>`
    }`
  }

  #submit(event: SubmitEvent): void {
    event.preventDefault()
    const path = this.renderRoot.querySelector('input')?.value.trim() ?? ''
    if (path !== '') ask(this, { type: 'save', path })
  }
}

customElements.define('lan-save-form', LanSaveForm)
