import type { PropertyDeclarations, TemplateResult } from 'lit'
import { html, LitElement, nothing } from 'lit'
import type { DutySource } from '../../../src/domain/song.ts'
import { CommitEvent } from '../controllers/commit-event.ts'
import { controls } from '../style/controls.ts'
import { fieldGrid } from '../style/field-grid.ts'
import './key-field.ts'
import './number-field.ts'
import './select-field.ts'

type Source = 'base' | 'controller' | 'velocity' | 'keys' | 'sweep'

const SOURCES = [
  { value: 'base', text: 'nothing: always the same' },
  { value: 'controller', text: 'a controller' },
  { value: 'velocity', text: 'how hard a note is struck' },
  { value: 'keys', text: 'the key that is played' },
  { value: 'sweep', text: 'time: it goes up and down slowly' },
]
/** Slider, knob or pedal that brightness is usually on (MIDI 1.0: 74). */
const USUAL_CONTROLLER = 74
/** The low E of a bass up to three octaves above it. */
const USUAL_KEYS: readonly [number, number] = [28, 64]
const USUAL_SWEEP_S = 20

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
    const low = value.keys ? 'Duty at the lowest key' : 'Lowest'
    const high = value.keys ? 'Duty at the highest key' : 'Highest'
    return html`<lan-select-field
        label="Moved by"
        fault=${this.fault}
        .value=${source}
        .choices=${SOURCES}
        @lan-commit=${(event: CommitEvent<Source>) => this.#source(event)}
      ></lan-select-field>
      ${source === 'controller' ? this.#number('controller', 'Controller', CONTROLLER, 'Until it is first heard, the duty is as below.') : nothing}
      ${source === 'sweep' ? this.#number('sweepSeconds', 'Up and down again in', SWEEP, 'Evenly, from where the song begins.') : nothing}
      ${value.keys ? this.#keys(value.keys) : nothing}
      ${source === 'base' || source === 'controller' ? this.#number('base', 'Duty', DUTY, 'On-fraction of the period.') : nothing}
      ${source === 'base' ? nothing : html`${this.#number('low', low, DUTY, '')} ${this.#number('high', high, DUTY, '')}`}`
  }

  #number(
    name: 'base' | 'low' | 'high' | 'controller' | 'sweepSeconds',
    label: string,
    { min, max, step, whole, unit }: Bounds,
    hint: string,
  ): TemplateResult {
    return html`<lan-number-field
      label=${label}
      hint=${hint}
      unit=${unit}
      .min=${min}
      .max=${max}
      .step=${step}
      ?whole=${whole}
      .value=${this.value[name] ?? null}
      @lan-commit=${(event: CommitEvent<number>) => this.#commit(event, { ...this.value, [name]: event.value })}
    ></lan-number-field>`
  }

  /** Keys beyond the two have the duty of the nearer. */
  #keys([low, high]: readonly [number, number]): TemplateResult {
    return html`<lan-key-field
        label="From key"
        .value=${low}
        @lan-commit=${(event: CommitEvent<number>) =>
          this.#commit(event, { ...this.value, keys: inOrder(event.value, high) })}
      ></lan-key-field>
      <lan-key-field
        label="To key"
        .value=${high}
        @lan-commit=${(event: CommitEvent<number>) =>
          this.#commit(event, { ...this.value, keys: inOrder(low, event.value) })}
      ></lan-key-field>`
  }

  #source(event: CommitEvent<Source>): void {
    const { base, low, high } = this.value
    const plain = { base, low, high }
    switch (event.value) {
      case 'base':
        return this.#commit(event, plain)
      case 'controller':
        return this.#commit(event, { ...plain, controller: USUAL_CONTROLLER })
      case 'velocity':
        return this.#commit(event, { ...plain, velocity: true })
      case 'keys':
        return this.#commit(event, { ...plain, keys: USUAL_KEYS })
      case 'sweep':
        return this.#commit(event, { ...plain, sweepSeconds: USUAL_SWEEP_S })
    }
  }

  #commit(event: Event, value: DutySource): void {
    event.stopPropagation()
    this.dispatchEvent(new CommitEvent(value))
  }
}

interface Bounds {
  readonly min: number
  readonly max: number
  readonly step: number
  readonly whole: boolean
  readonly unit: string
}

const DUTY: Bounds = { min: 0, max: 1, step: 0.01, whole: false, unit: '' }
const CONTROLLER: Bounds = { min: 0, max: 119, step: 1, whole: true, unit: '' }
const SWEEP: Bounds = { min: 0.5, max: 3600, step: 1, whole: false, unit: 's' }

function inOrder(one: number, other: number): readonly [number, number] {
  return one <= other ? [one, other] : [other, one]
}

function sourceOf({ controller, velocity, keys, sweepSeconds }: DutySource): Source {
  if (controller !== undefined) return 'controller'
  if (keys !== undefined) return 'keys'
  if (sweepSeconds !== undefined) return 'sweep'
  return velocity === true ? 'velocity' : 'base'
}

customElements.define('lan-duty-form', LanDutyForm)

declare global {
  interface HTMLElementTagNameMap {
    'lan-duty-form': LanDutyForm
  }
}
