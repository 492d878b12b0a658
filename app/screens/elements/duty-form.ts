import type { PropertyDeclarations, TemplateResult } from 'lit'
import { html, LitElement, nothing } from 'lit'
import type { DutySource } from '../../../src/domain/song.ts'
import { CommitEvent } from '../controllers/commit-event.ts'
import { controls } from '../style/controls.ts'
import { fieldGrid } from '../style/field-grid.ts'
import './number-field.ts'
import './select-field.ts'

type Source = 'base' | 'controller' | 'velocity'

const SOURCES = [
  { value: 'base', text: 'nothing: always the same' },
  { value: 'controller', text: 'a controller' },
  { value: 'velocity', text: 'how hard a note is struck' },
]
/** Slider, knob or pedal that brightness is usually on (MIDI 1.0: 74). */
const USUAL_CONTROLLER = 74

/** Where a part's duty comes from. Commits the whole of it (`lan-commit`, a DutySource). */
export class LanDutyForm extends LitElement {
  static override properties: PropertyDeclarations = { value: { attribute: false }, fault: {} }
  static override styles = [controls, fieldGrid]
  declare value: DutySource
  declare fault: string

  constructor() {
    super()
    this.value = { base: 0.5, low: 0.05, high: 0.5 }
    this.fault = ''
  }

  override render(): TemplateResult {
    const { value } = this
    const source = sourceOf(value)
    return html`<lan-select-field
        label="Moved by"
        fault=${this.fault}
        .value=${source}
        .choices=${SOURCES}
        @lan-commit=${(event: CommitEvent<Source>) => this.#source(event)}
      ></lan-select-field>
      ${
        source === 'controller'
          ? this.#number(
              'controller',
              'Controller',
              0,
              119,
              true,
              'Until it is first heard, the duty is as below.',
            )
          : nothing
      }
      ${source === 'velocity' ? nothing : this.#number('base', 'Duty', 0, 1, false, 'On-fraction of the period.')}
      ${
        source === 'base'
          ? nothing
          : html`${this.#number('low', 'Lowest', 0, 1, false, '')}
            ${this.#number('high', 'Highest', 0, 1, false, '')}`
      }`
  }

  #number(
    name: 'base' | 'low' | 'high' | 'controller',
    label: string,
    min: number,
    max: number,
    whole: boolean,
    hint: string,
  ): TemplateResult {
    return html`<lan-number-field
      label=${label}
      hint=${hint}
      .min=${min}
      .max=${max}
      .step=${whole ? 1 : 0.01}
      ?whole=${whole}
      .value=${this.value[name] ?? null}
      @lan-commit=${(event: CommitEvent<number>) => {
        event.stopPropagation()
        this.#commit({ ...this.value, [name]: event.value })
      }}
    ></lan-number-field>`
  }

  #source(event: CommitEvent<Source>): void {
    event.stopPropagation()
    const { base, low, high } = this.value
    const plain = { base, low, high }
    if (event.value === 'controller') this.#commit({ ...plain, controller: USUAL_CONTROLLER })
    else if (event.value === 'velocity') this.#commit({ ...plain, velocity: true })
    else this.#commit(plain)
  }

  #commit(value: DutySource): void {
    this.dispatchEvent(new CommitEvent(value))
  }
}

function sourceOf({ controller, velocity }: DutySource): Source {
  if (controller !== undefined) return 'controller'
  return velocity === true ? 'velocity' : 'base'
}

customElements.define('lan-duty-form', LanDutyForm)

declare global {
  interface HTMLElementTagNameMap {
    'lan-duty-form': LanDutyForm
  }
}
