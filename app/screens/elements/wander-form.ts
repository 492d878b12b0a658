import type { TemplateResult } from 'lit'
import { html, nothing } from 'lit'
import type { Wander } from '../../../src/domain/part-motion.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { WholeForm } from './whole-form.ts'

const WHETHER = [
  { value: 'no', text: 'hold their pitch' },
  { value: 'yes', text: 'drift, each by itself' },
]
/** As the show has it where a wander says nothing. */
const USUAL: Wander = { cents: 8, seconds: 20, seed: 1 }

/** How a song's lamps drift, like tired batteries. Commits the whole of it (`lan-commit`, a Wander, or null for none). */
export class LanWanderForm extends WholeForm<Wander> {
  override render(): TemplateResult {
    const { value } = this
    return html`<lan-select-field
        label="Lamps"
        fault=${this.fault}
        .value=${value ? 'yes' : 'no'}
        .choices=${WHETHER}
        @lan-commit=${(event: CommitEvent<string>) => this.commit(event, event.value === 'yes' ? USUAL : null)}
      ></lan-select-field>
      ${
        value
          ? html`${this.number(value, 'cents', 'Drift, either way at most', 'cents', { min: 0, max: 1200 })}
            ${this.number(value, 'seconds', 'Another way every', 's', { min: 0.5, max: 3600 })}
            ${this.number(value, 'seed', 'Seed: the same drifts the same', '', { min: 0, max: 0xffff_ffff, whole: true })}`
          : nothing
      }`
  }
}

customElements.define('lan-wander-form', LanWanderForm)
