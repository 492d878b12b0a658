import type { PropertyDeclarations, TemplateResult } from 'lit'
import { html, nothing } from 'lit'
import { live } from 'lit/directives/live.js'
import { CommitEvent } from '../controllers/commit-event.ts'
import { FieldElement } from './field-element.ts'
import { numberFault, readNumber, stepped } from './number-text.ts'

/**
 * A number to be typed, or changed by `step` with the arrow keys. Enter, or leaving it, commits what is typed (`lan-commit`, a number, or null where
 * `optional` and empty); Escape takes it back. What is out of range stays as typed, says so, and is not committed.
 */
export class LanNumberField extends FieldElement {
  static override properties: PropertyDeclarations = {
    ...FieldElement.properties,
    value: { attribute: false },
    unit: {},
    min: { type: Number },
    max: { type: Number },
    above: { type: Number },
    step: { type: Number },
    whole: { type: Boolean },
    optional: { type: Boolean },
    draft: { state: true },
  }

  declare value: number | null
  declare unit: string
  declare min: number
  declare max: number
  /** Where the lower end is not itself allowed. */
  declare above: number | undefined
  declare step: number
  declare whole: boolean
  declare optional: boolean
  /** What is being typed; undefined: the value as it is. */
  declare private draft: string | undefined

  constructor() {
    super()
    this.value = null
    this.unit = ''
    this.min = -Infinity
    this.max = Infinity
    this.step = 1
    this.whole = false
    this.optional = false
  }

  override render(): TemplateResult {
    const { value, draft, min, max, unit } = this
    const typed = draft === undefined ? value : readNumber(draft)
    return this.frame(
      html`<div class="entry">
        <input
          id="entry"
          class="figures"
          role="spinbutton"
          inputmode=${this.whole && min >= 0 ? 'numeric' : 'decimal'}
          autocomplete="off"
          ?disabled=${this.disabled}
          ?readonly=${this.isLocked}
          .value=${live(draft ?? (value === null ? '' : String(value)))}
          aria-valuenow=${typed ?? nothing}
          aria-valuetext=${typed === null ? (this.draft ?? 'none') : `${typed}${unit ? ` ${unit}` : ''}`}
          aria-valuemin=${Number.isFinite(min) ? min : nothing}
          aria-valuemax=${Number.isFinite(max) ? max : nothing}
          aria-invalid=${this.wrong ? 'true' : nothing}
          aria-describedby=${this.describedBy}
          @input=${(event: InputEvent) => this.#type((event.target as HTMLInputElement).value)}
          @change=${() => this.#commit()}
          @keydown=${(event: KeyboardEvent) => this.#key(event)}
        />${unit && !this.bare ? html`<span class="unit" aria-hidden="true">${unit}</span>` : nothing}
      </div>`,
    )
  }

  #type(text: string): void {
    this.draft = text
    this.own = ''
  }

  #key(event: KeyboardEvent): void {
    const { key } = event
    if (this.isLocked) return
    if (key === 'ArrowUp' || key === 'ArrowDown') {
      event.preventDefault()
      const from = this.draft === undefined ? this.value : readNumber(this.draft)
      const by = (key === 'ArrowUp' ? 1 : -1) * this.step * (event.shiftKey ? 10 : 1)
      this.#type(String(stepped(from, by, this)))
    }
    if (key === 'Enter') this.#commit()
    if (key === 'Escape' && (this.draft !== undefined || this.own)) {
      event.stopPropagation()
      this.#takeBack()
    }
  }

  #takeBack(): void {
    this.draft = undefined
    this.own = ''
  }

  /** Arrow keys make no `change` of the input's own, so leaving it commits too. */
  override connectedCallback(): void {
    super.connectedCallback()
    this.addEventListener('focusout', this.#left)
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    this.removeEventListener('focusout', this.#left)
  }

  readonly #left = (): void => this.#commit()

  #commit(): void {
    if (this.draft === undefined) return
    if (this.isLocked) return this.#takeBack()
    const fault = numberFault(this.draft, this)
    this.own = fault
    if (fault) return
    const value = readNumber(this.draft)
    this.draft = undefined
    if (value !== this.value) this.dispatchEvent(new CommitEvent(value))
  }
}

customElements.define('lan-number-field', LanNumberField)

declare global {
  interface HTMLElementTagNameMap {
    'lan-number-field': LanNumberField
  }
}
