import type { TemplateResult } from 'lit'
import { html, nothing } from 'lit'
import type { Glide } from '../../../src/domain/part-motion.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { WholeForm } from './whole-form.ts'

type How = 'none' | 'time' | 'rate'

const HOW = [
  { value: 'none', text: 'none: each note begins at its pitch' },
  { value: 'time', text: 'in a time, however far it is' },
  { value: 'rate', text: 'at a rate: farther takes longer' },
]
const WHEN = [
  { value: 'legato', text: 'only to a note that is played legato' },
  { value: 'always', text: 'always, from what the part sounded last' },
]
const USUAL_MS = 90
const USUAL_RATE = 2400

/** How a part's pitch comes from one note to the next. Commits the whole of it (`lan-commit`, a Glide, or null for none). */
export class LanGlideForm extends WholeForm<Glide> {
  override render(): TemplateResult {
    const { value } = this
    return html`<lan-select-field
        label="Glide"
        fault=${this.fault}
        .value=${howOf(value)}
        .choices=${HOW}
        @lan-commit=${(event: CommitEvent<How>) => this.#how(event)}
      ></lan-select-field>
      ${value ? this.#way(value) : nothing}`
  }

  #way(value: Glide): TemplateResult {
    const isTime = 'ms' in value
    return html`<lan-number-field
        label=${isTime ? 'Glide takes' : 'Glide goes'}
        unit=${isTime ? 'ms' : 'cents a second'}
        .min=${isTime ? 0 : -Infinity}
        .above=${isTime ? undefined : 0}
        .max=${isTime ? 60_000 : 1_000_000}
        .step=${isTime ? 10 : 100}
        .value=${isTime ? value.ms : value.centsPerSecond}
        @lan-commit=${(event: CommitEvent<number>) => {
          const { when } = value
          this.commit(event, isTime ? { ms: event.value, when } : { centsPerSecond: event.value, when })
        }}
      ></lan-number-field>
      <lan-select-field
        label="When it glides"
        .value=${value.when}
        .choices=${WHEN}
        @lan-commit=${(event: CommitEvent<Glide['when']>) => this.commit(event, { ...value, when: event.value })}
      ></lan-select-field>`
  }

  #how(event: CommitEvent<How>): void {
    const when = this.value?.when ?? 'legato'
    if (event.value === 'none') this.commit(event, null)
    else if (event.value === 'time') this.commit(event, { ms: USUAL_MS, when })
    else this.commit(event, { centsPerSecond: USUAL_RATE, when })
  }
}

function howOf(value: Glide | undefined): How {
  if (!value) return 'none'
  return 'ms' in value ? 'time' : 'rate'
}

customElements.define('lan-glide-form', LanGlideForm)
