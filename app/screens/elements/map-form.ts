import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { KeyMap } from '../../../src/domain/tuning-spec.ts'
import { CommitEvent } from '../controllers/commit-event.ts'
import { controls } from '../style/controls.ts'
import { fieldGrid } from '../style/field-grid.ts'
import { degreesText, readDegrees } from '../tuning/degrees-text.ts'
import './key-field.ts'
import './number-field.ts'
import './select-field.ts'
import './text-field.ts'

const WHICH = [
  { value: 'none', text: 'one degree after another' },
  { value: 'map', text: 'by a key map' },
]

/** Which key sounds which degree of a scale. Commits the whole of it (`lan-commit`, a KeyMap, or null for none). */
export class LanMapForm extends LitElement {
  static override properties: PropertyDeclarations = {
    value: { attribute: false },
    size: { type: Number },
    fault: {},
  }
  static override styles = [
    controls,
    fieldGrid,
    css`
      .wide {
        grid-column: 1 / -1;
      }
    `,
  ]
  declare value: KeyMap | undefined
  /** How many pitches the scale has. */
  declare size: number
  declare fault: string

  constructor() {
    super()
    this.size = 12
    this.fault = ''
  }

  override render(): TemplateResult {
    const { value } = this
    return html`<lan-select-field
        label="Keys"
        fault=${this.fault}
        .value=${value ? 'map' : 'none'}
        .choices=${WHICH}
        @lan-commit=${(event: CommitEvent<string>) => this.#commit(event, event.value === 'map' ? this.#fresh : null)}
      ></lan-select-field>
      ${value ? this.#map(value) : nothing}`
  }

  #map(value: KeyMap): TemplateResult {
    return html`<lan-text-field
        class="wide"
        label="Degrees, key by key"
        hint="From the middle key on, repeated up and down; x leaves a key out. Empty: each key is the next degree."
        optional
        .longest=${1000}
        .check=${degreesFault}
        .value=${degreesText(value.degrees)}
        @lan-commit=${(event: CommitEvent<string>) => {
          const degrees = readDegrees(event.value)
          if (!('fault' in degrees)) this.#commit(event, { ...value, degrees })
        }}
      ></lan-text-field>
      ${this.#key(value, 'middle', 'Middle key')} ${this.#key(value, 'first', 'Lowest key mapped')}
      ${this.#key(value, 'last', 'Highest key mapped')}
      <lan-number-field
        label="Degree one repetition up"
        hint="0: the scale’s last."
        whole
        .min=${0}
        .max=${10_000}
        .value=${value.formalOctave}
        @lan-commit=${(event: CommitEvent<number>) =>
          this.#commit(event, { ...value, formalOctave: event.value })}
      ></lan-number-field>`
  }

  #key(value: KeyMap, name: 'first' | 'last' | 'middle', label: string): TemplateResult {
    return html`<lan-key-field
      label=${label}
      .value=${value[name]}
      @lan-commit=${(event: CommitEvent<number>) => this.#commit(event, { ...value, [name]: event.value })}
    ></lan-key-field>`
  }

  /** Sounds as without a map. */
  get #fresh(): KeyMap {
    return { first: 0, last: 127, middle: 60, formalOctave: this.size, degrees: [] }
  }

  #commit(event: Event, value: KeyMap | null): void {
    event.stopPropagation()
    this.dispatchEvent(new CommitEvent(value))
  }
}

function degreesFault(text: string): string {
  const degrees = readDegrees(text)
  return 'fault' in degrees ? degrees.fault : ''
}

customElements.define('lan-map-form', LanMapForm)
