import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, nothing } from 'lit'
import { live } from 'lit/directives/live.js'
import type { ScalePitch } from '../../../src/domain/tuning-spec.ts'
import { CommitEvent } from '../controllers/commit-event.ts'
import { pitchesText, readPitches } from '../tuning/pitch-text.ts'
import { FieldElement } from './field-element.ts'

/** Pitches of a scale to be typed. Leaving it commits them (`lan-commit`, a list); what cannot be taken is told by line, and stays as it was typed. Escape takes it back. */
export class LanPitchesField extends FieldElement {
  static override properties: PropertyDeclarations = {
    ...FieldElement.properties,
    value: { attribute: false },
    draft: { state: true },
    faults: { state: true },
  }
  static override styles = [
    ...FieldElement.styles,
    css`
      textarea {
        width: 100%;
        min-height: 9rem;
        line-height: 1.4;
        resize: vertical;
        font-variant-numeric: tabular-nums;
      }
      .fault span {
        display: block;
      }
    `,
  ]
  declare value: readonly ScalePitch[]
  declare private draft: string | undefined
  declare private faults: readonly string[]

  constructor() {
    super()
    this.value = []
    this.faults = []
  }

  override get isRefusing(): boolean {
    return this.faults.length > 0
  }

  override render(): TemplateResult {
    const isWrong = this.wrong !== '' || this.faults.length > 0
    return html`<label for="entry">${this.label}</label>
      <textarea
        id="entry"
        rows="7"
        spellcheck="false"
        ?readonly=${this.isLocked}
        .value=${live(this.draft ?? pitchesText(this.value))}
        aria-invalid=${isWrong ? 'true' : nothing}
        aria-describedby=${isWrong ? 'hint fault' : 'hint'}
        @input=${(event: InputEvent) => {
          this.draft = (event.target as HTMLTextAreaElement).value
          this.faults = []
        }}
        @change=${() => this.#commit()}
        @keydown=${(event: KeyboardEvent) => this.#key(event)}
      ></textarea>
      <p class="hint" id="hint">
        One a line, or blanks between. With a point they are cents (701.955), without one ratios (3/2, 2). The
        last is where the scale repeats.
      </p>
      ${
        isWrong
          ? html`<p class="fault" id="fault" role="alert">
              ${this.faults.slice(0, 6).map((fault) => html`<span>${fault}</span>`)}
              ${this.faults.length > 6 ? html`<span>And ${this.faults.length - 6} more.</span>` : nothing}
              ${this.wrong}
            </p>`
          : nothing
      }`
  }

  #key(event: KeyboardEvent): void {
    if (event.key !== 'Escape' || (this.draft === undefined && this.faults.length === 0)) return
    event.stopPropagation()
    this.#takeBack()
  }

  #takeBack(): void {
    this.draft = undefined
    this.faults = []
  }

  #commit(): void {
    if (this.draft === undefined) return
    if (this.isLocked) return this.#takeBack()
    const { pitches, faults } = readPitches(this.draft)
    this.faults = faults
    if (faults.length > 0) return
    this.draft = undefined
    if (pitchesText(pitches) !== pitchesText(this.value)) this.dispatchEvent(new CommitEvent(pitches))
  }
}

customElements.define('lan-pitches-field', LanPitchesField)
