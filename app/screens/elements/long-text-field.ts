import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, nothing } from 'lit'
import { live } from 'lit/directives/live.js'
import { CommitEvent } from '../controllers/commit-event.ts'
import { FieldElement } from './field-element.ts'

/** Text of several lines, which may be empty. Leaving it commits it (`lan-commit`, a string); Escape takes it back. */
export class LanLongTextField extends FieldElement {
  static override properties: PropertyDeclarations = {
    ...FieldElement.properties,
    value: {},
    longest: { type: Number },
    draft: { state: true },
  }
  static override styles = [
    ...FieldElement.styles,
    css`
      textarea {
        width: 100%;
        min-height: 7.5rem;
        line-height: 1.4;
        resize: vertical;
      }
    `,
  ]

  declare value: string
  declare longest: number
  declare private draft: string | undefined

  constructor() {
    super()
    this.value = ''
    this.longest = 4_000
  }

  override render(): TemplateResult {
    return this.frame(
      html`<textarea
        id="entry"
        rows="5"
        maxlength=${this.longest}
        ?disabled=${this.disabled}
        ?readonly=${this.isLocked}
        .value=${live(this.draft ?? this.value)}
        aria-invalid=${this.wrong ? 'true' : nothing}
        aria-describedby=${this.describedBy}
        @input=${(event: InputEvent) => void (this.draft = (event.target as HTMLTextAreaElement).value)}
        @change=${() => this.#commit()}
        @keydown=${(event: KeyboardEvent) => this.#key(event)}
      ></textarea>`,
    )
  }

  #key(event: KeyboardEvent): void {
    if (event.key !== 'Escape' || this.draft === undefined) return
    event.stopPropagation()
    this.draft = undefined
  }

  #commit(): void {
    const text = this.draft?.trimEnd()
    this.draft = undefined
    if (text === undefined || text === this.value || this.isLocked) return
    this.dispatchEvent(new CommitEvent(text))
  }
}

customElements.define('lan-long-text-field', LanLongTextField)
