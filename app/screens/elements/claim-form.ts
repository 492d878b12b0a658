import type { PropertyDeclarations, TemplateResult } from 'lit'
import { html, LitElement, nothing } from 'lit'
import type { Claim } from '../../../src/domain/song.ts'
import { CommitEvent } from '../controllers/commit-event.ts'
import { controls } from '../style/controls.ts'
import { fieldGrid } from '../style/field-grid.ts'
import './number-field.ts'
import './select-field.ts'

const WHEN = [
  { value: 'none', text: 'never' },
  { value: 'playing', text: 'while it plays' },
  { value: 'latched', text: 'from its first note until all is made dark' },
  { value: 'always', text: 'always' },
]
const USUAL_RELEASE_MS = 500

/** When a part takes its lamps from parts without a claim, and before which other claims. Commits the whole of it (`lan-commit`, a Claim, or null for none). */
export class LanClaimForm extends LitElement {
  static override properties: PropertyDeclarations = { value: { attribute: false }, fault: {} }
  static override styles = [controls, fieldGrid]
  declare value: Claim | undefined
  declare fault: string

  constructor() {
    super()
    this.fault = ''
  }

  override render(): TemplateResult {
    const { value } = this
    return html`<lan-select-field
        label="Takes its lamps from other parts"
        fault=${this.fault}
        .value=${value?.when ?? 'none'}
        .choices=${WHEN}
        @lan-commit=${(event: CommitEvent<Claim['when'] | 'none'>) => this.#when(event)}
      ></lan-select-field>
      ${
        value?.when === 'playing'
          ? html`<lan-number-field
              label="Kept after its last note"
              unit="ms"
              .min=${0}
              .max=${600_000}
              .step=${10}
              .value=${value.releaseMs}
              @lan-commit=${(event: CommitEvent<number>) => {
                event.stopPropagation()
                this.dispatchEvent(new CommitEvent({ ...value, releaseMs: event.value }))
              }}
            ></lan-number-field>`
          : nothing
      }
      ${
        value
          ? html`<lan-number-field
              label="Priority among claims"
              hint="The higher has a lamp that both claim; of equals, the one that was there first."
              whole
              .min=${-100}
              .max=${100}
              .value=${value.priority}
              @lan-commit=${(event: CommitEvent<number>) => {
                event.stopPropagation()
                this.dispatchEvent(new CommitEvent({ ...value, priority: event.value }))
              }}
            ></lan-number-field>`
          : nothing
      }`
  }

  #when(event: CommitEvent<Claim['when'] | 'none'>): void {
    event.stopPropagation()
    const claim =
      event.value === 'none'
        ? null
        : { releaseMs: USUAL_RELEASE_MS, priority: 0, ...this.value, when: event.value }
    this.dispatchEvent(new CommitEvent(claim))
  }
}

customElements.define('lan-claim-form', LanClaimForm)

declare global {
  interface HTMLElementTagNameMap {
    'lan-claim-form': LanClaimForm
  }
}
