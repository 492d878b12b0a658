import type { TemplateResult } from 'lit'
import { html, nothing } from 'lit'
import type { Claim } from '../../../src/domain/song.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { WholeForm } from './whole-form.ts'

const WHEN = [
  { value: 'none', text: 'never' },
  { value: 'playing', text: 'while it plays' },
  { value: 'latched', text: 'from its first note until all is made dark' },
  { value: 'always', text: 'always' },
]
const USUAL_RELEASE_MS = 500

/** When a part takes its lamps from parts without a claim, and before which other claims. Commits the whole of it (`lan-commit`, a Claim, or null for none). */
export class LanClaimForm extends WholeForm<Claim> {
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
              @lan-commit=${(event: CommitEvent<number>) => this.commit(event, { ...value, releaseMs: event.value })}
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
              @lan-commit=${(event: CommitEvent<number>) => this.commit(event, { ...value, priority: event.value })}
            ></lan-number-field>`
          : nothing
      }`
  }

  #when(event: CommitEvent<Claim['when'] | 'none'>): void {
    const claim =
      event.value === 'none'
        ? null
        : { releaseMs: USUAL_RELEASE_MS, priority: 0, ...this.value, when: event.value }
    this.commit(event, claim)
  }
}

customElements.define('lan-claim-form', LanClaimForm)

declare global {
  interface HTMLElementTagNameMap {
    'lan-claim-form': LanClaimForm
  }
}
