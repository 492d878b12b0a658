import type { PropertyDeclarations, TemplateResult } from 'lit'
import { html, nothing } from 'lit'
import { live } from 'lit/directives/live.js'
import { CommitEvent } from '../controllers/commit-event.ts'
import { FieldElement } from './field-element.ts'

export interface Choice {
  readonly value: string
  readonly text: string
}

/** One of a few. Choosing commits (`lan-commit`, the choice's value). */
export class LanSelectField extends FieldElement {
  static override properties: PropertyDeclarations = {
    ...FieldElement.properties,
    value: {},
    choices: { attribute: false },
  }

  declare value: string
  declare choices: readonly Choice[]

  constructor() {
    super()
    this.value = ''
    this.choices = []
  }

  override render(): TemplateResult {
    return this.frame(
      html`<div class="entry">
        <select
          id="entry"
          ?disabled=${this.isShut}
          aria-invalid=${this.wrong ? 'true' : nothing}
          aria-describedby=${this.describedBy}
          @change=${(event: Event) => this.#choose(event.target as HTMLSelectElement)}
        >
          ${this.choices.map(
            ({ value, text }) =>
              html`<option value=${value} .selected=${live(value === this.value)}>${text}</option>`,
          )}
        </select>
      </div>`,
    )
  }

  #choose(select: HTMLSelectElement): void {
    const { value } = select
    // What is shown is what holds, until the new value comes in from outside.
    select.value = this.value
    if (value !== this.value) this.dispatchEvent(new CommitEvent(value))
  }
}

customElements.define('lan-select-field', LanSelectField)

declare global {
  interface HTMLElementTagNameMap {
    'lan-select-field': LanSelectField
  }
}
