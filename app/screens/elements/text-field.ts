import type { PropertyDeclarations, TemplateResult } from 'lit'
import { html, nothing } from 'lit'
import { live } from 'lit/directives/live.js'
import { CommitEvent } from '../controllers/commit-event.ts'
import { FieldElement } from './field-element.ts'

/** A line of text. Enter, or leaving it, commits it (`lan-commit`, a string); Escape takes it back. */
export class LanTextField extends FieldElement {
  static override properties: PropertyDeclarations = {
    ...FieldElement.properties,
    value: {},
    longest: { type: Number },
    check: { attribute: false },
    optional: { type: Boolean },
    draft: { state: true },
  }

  declare value: string
  declare longest: number
  declare optional: boolean
  /** What is wrong with a text, in words; empty: nothing. */
  declare check: ((text: string) => string) | undefined
  declare private draft: string | undefined

  constructor() {
    super()
    this.value = ''
    this.longest = 200
    this.optional = false
  }

  override render(): TemplateResult {
    return this.frame(
      html`<div class="entry">
        <input
          id="entry"
          type="text"
          autocomplete="off"
          spellcheck="false"
          maxlength=${this.longest}
          ?disabled=${this.disabled}
          ?readonly=${this.isLocked}
          .value=${live(this.draft ?? this.value)}
          aria-invalid=${this.wrong ? 'true' : nothing}
          aria-describedby=${this.describedBy}
          @input=${(event: InputEvent) => this.#type((event.target as HTMLInputElement).value)}
          @change=${() => this.#commit()}
          @keydown=${(event: KeyboardEvent) => this.#key(event)}
        />
      </div>`,
    )
  }

  #type(text: string): void {
    this.draft = text
    this.own = ''
  }

  #key(event: KeyboardEvent): void {
    if (event.key === 'Enter') this.#commit()
    if (event.key === 'Escape' && (this.draft !== undefined || this.own)) {
      event.stopPropagation()
      this.#takeBack()
    }
  }

  #takeBack(): void {
    this.draft = undefined
    this.own = ''
  }

  #commit(): void {
    if (this.draft === undefined) return
    if (this.isLocked) return this.#takeBack()
    const text = this.draft.trim()
    const fault = text === '' && !this.optional ? 'nothing is entered; expected a text' : this.check?.(text)
    this.own = fault ?? ''
    if (fault) return
    this.draft = undefined
    if (text !== this.value) this.dispatchEvent(new CommitEvent(text))
  }
}

customElements.define('lan-text-field', LanTextField)

declare global {
  interface HTMLElementTagNameMap {
    'lan-text-field': LanTextField
  }
}
