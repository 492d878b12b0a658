import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, nothing } from 'lit'
import { live } from 'lit/directives/live.js'
import { CommitEvent } from '../controllers/commit-event.ts'
import { FieldElement } from './field-element.ts'

/** Yes or no. Changing commits (`lan-commit`, a boolean). */
export class LanSwitchField extends FieldElement {
  static override properties: PropertyDeclarations = {
    ...FieldElement.properties,
    value: { attribute: false },
  }
  static override styles = [
    ...FieldElement.styles,
    css`
      .switch {
        display: flex;
        align-items: center;
        gap: 0.6em;
        min-height: var(--touch);
      }
      :host([bare]) .switch {
        justify-content: center;
        min-width: var(--touch);
      }
    `,
  ]

  declare value: boolean

  constructor() {
    super()
    this.value = false
  }

  override render(): TemplateResult {
    return html`<div class="switch">
        <input
          id="entry"
          type="checkbox"
          ?disabled=${this.isShut}
          .checked=${live(this.value)}
          aria-invalid=${this.wrong ? 'true' : nothing}
          aria-describedby=${this.describedBy}
          @change=${(event: Event) => this.#change(event.target as HTMLInputElement)}
        />
        <label for="entry" class=${this.bare ? 'unseen' : ''}>${this.label}</label>
      </div>
      ${this.hint ? html`<p class="hint" id="hint">${this.hint}</p>` : nothing}
      ${this.wrong ? html`<p class="fault" id="fault">${this.wrong}</p>` : nothing}`
  }

  #change(box: HTMLInputElement): void {
    const { checked } = box
    // What is shown is what holds, until the new value comes in from outside.
    box.checked = this.value
    this.dispatchEvent(new CommitEvent(checked))
  }
}

customElements.define('lan-switch-field', LanSwitchField)

declare global {
  interface HTMLElementTagNameMap {
    'lan-switch-field': LanSwitchField
  }
}
