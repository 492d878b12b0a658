import type { TemplateResult } from 'lit'
import { html, nothing } from 'lit'
import type { Vibrato } from '../../../src/domain/part-motion.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { WholeForm } from './whole-form.ts'

type How = 'none' | 'all' | 'controller'

const HOW = [
  { value: 'none', text: 'none' },
  { value: 'all', text: 'always all of it' },
  { value: 'controller', text: 'as much as a controller says' },
]
/** MIDI 1.0: modulation wheel. */
const USUAL_CONTROLLER = 1
/** As the show has it where a vibrato says nothing. */
const USUAL: Vibrato = { cents: 20, hz: 5.5, delayMs: 0 }

/** How a part's pitch wavers. Commits the whole of it (`lan-commit`, a Vibrato, or null for none). */
export class LanVibratoForm extends WholeForm<Vibrato> {
  override render(): TemplateResult {
    const { value } = this
    return html`<lan-select-field
        label="Vibrato"
        fault=${this.fault}
        .value=${howOf(value)}
        .choices=${HOW}
        @lan-commit=${(event: CommitEvent<How>) => this.#how(event)}
      ></lan-select-field>
      ${
        value
          ? html`${this.number(value, 'cents', 'Vibrato, either way', 'cents', { min: 0, max: 1200, step: 1 })}
            ${this.number(value, 'hz', 'Vibrato rate', 'Hz', { above: 0, max: 20, step: 0.1 })}
            ${this.number(value, 'delayMs', 'Begins after the strike', 'ms', { min: 0, max: 60_000, step: 10 })}`
          : nothing
      }
      ${
        value?.controller === undefined
          ? nothing
          : this.number(value, 'controller', 'Vibrato controller', '', {
              min: 0,
              max: 119,
              step: 1,
              whole: true,
            })
      }`
  }

  #how(event: CommitEvent<How>): void {
    const { controller = USUAL_CONTROLLER, ...rest } = this.value ?? USUAL
    if (event.value === 'none') this.commit(event, null)
    else this.commit(event, event.value === 'all' ? rest : { ...rest, controller })
  }
}

function howOf(value: Vibrato | undefined): How {
  if (!value) return 'none'
  return value.controller === undefined ? 'all' : 'controller'
}

customElements.define('lan-vibrato-form', LanVibratoForm)
