import type { PropertyDeclarations, TemplateResult } from 'lit'
import { html, LitElement, nothing } from 'lit'
import type { Wander } from '../../../src/domain/part-motion.ts'
import { CommitEvent } from '../controllers/commit-event.ts'
import { controls } from '../style/controls.ts'
import { fieldGrid } from '../style/field-grid.ts'
import './number-field.ts'
import './select-field.ts'

const WHETHER = [
  { value: 'no', text: 'hold their pitch' },
  { value: 'yes', text: 'drift, each by itself' },
]
/** As the show has it where a wander says nothing. */
const USUAL: Wander = { cents: 8, seconds: 20, seed: 1 }

/** How a song's lamps drift, like tired batteries. Commits the whole of it (`lan-commit`, a Wander, or null for none). */
export class LanWanderForm extends LitElement {
  static override properties: PropertyDeclarations = { value: { attribute: false }, fault: {} }
  static override styles = [controls, fieldGrid]
  declare value: Wander | undefined
  declare fault: string

  constructor() {
    super()
    this.fault = ''
  }

  override render(): TemplateResult {
    const { value } = this
    return html`<lan-select-field
        label="Lamps"
        fault=${this.fault}
        .value=${value ? 'yes' : 'no'}
        .choices=${WHETHER}
        @lan-commit=${(event: CommitEvent<string>) => this.#commit(event, event.value === 'yes' ? USUAL : null)}
      ></lan-select-field>
      ${
        value
          ? html`${this.#number(value, 'cents', 'Drift, either way at most', 'cents', 0, 1200, false)}
            ${this.#number(value, 'seconds', 'Another way every', 's', 0.5, 3600, false)}
            ${this.#number(value, 'seed', 'Seed: the same drifts the same', '', 0, 0xffff_ffff, true)}`
          : nothing
      }`
  }

  #number(
    value: Wander,
    name: keyof Wander,
    label: string,
    unit: string,
    min: number,
    max: number,
    whole: boolean,
  ): TemplateResult {
    return html`<lan-number-field
      label=${label}
      unit=${unit}
      ?whole=${whole}
      .min=${min}
      .max=${max}
      .value=${value[name]}
      @lan-commit=${(event: CommitEvent<number>) => this.#commit(event, { ...value, [name]: event.value })}
    ></lan-number-field>`
  }

  #commit(event: Event, value: Wander | null): void {
    event.stopPropagation()
    this.dispatchEvent(new CommitEvent(value))
  }
}

customElements.define('lan-wander-form', LanWanderForm)
