import type { PropertyDeclarations, TemplateResult } from 'lit'
import { html, nothing } from 'lit'
import { live } from 'lit/directives/live.js'
import { CommitEvent } from '../controllers/commit-event.ts'
import type { Json } from '../sheet/json.ts'
import { FieldElement } from './field-element.ts'

/** A value that no other field can ask for, as JSON. Leaving it commits (`lan-commit`); Escape takes back what was typed. */
export class LanJsonField extends FieldElement {
  static override properties: PropertyDeclarations = {
    ...FieldElement.properties,
    value: { attribute: false },
    draft: { state: true },
  }

  declare value: Json | undefined
  declare private draft: string | undefined

  override render(): TemplateResult {
    const text = this.value === undefined ? '' : JSON.stringify(this.value, null, 1)
    return this.frame(
      html`<textarea
        id="entry"
        rows="4"
        spellcheck="false"
        ?disabled=${this.disabled}
        ?readonly=${this.isLocked}
        .value=${live(this.draft ?? text)}
        aria-invalid=${this.wrong ? 'true' : nothing}
        aria-describedby=${this.describedBy}
        @input=${(event: InputEvent) => this.#type((event.target as HTMLTextAreaElement).value)}
        @change=${() => this.#commit()}
        @keydown=${(event: KeyboardEvent) => this.#key(event)}
      ></textarea>`,
    )
  }

  #type(text: string): void {
    this.draft = text
    this.own = ''
  }

  #key(event: KeyboardEvent): void {
    if (event.key !== 'Escape' || this.draft === undefined) return
    event.stopPropagation()
    this.#takeBack()
  }

  #takeBack(): void {
    this.draft = undefined
    this.own = ''
  }

  #commit(): void {
    if (this.draft === undefined) return
    if (this.isLocked) return this.#takeBack()
    try {
      const value = JSON.parse(this.draft) as Json
      this.draft = undefined
      this.own = ''
      this.dispatchEvent(new CommitEvent(value))
    } catch (error) {
      this.own = `This is not JSON: ${error instanceof Error ? error.message : String(error)}`
    }
  }
}

customElements.define('lan-json-field', LanJsonField)

declare global {
  interface HTMLElementTagNameMap {
    'lan-json-field': LanJsonField
  }
}
