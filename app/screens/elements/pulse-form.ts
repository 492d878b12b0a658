import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, nothing } from 'lit'
import type { Pulse } from '../../../src/domain/part-motion.ts'
import { parseRatio } from '../../../src/domain/ratio.ts'
import type { Bpm } from '../../../src/domain/units.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { pulseCaution } from '../sheet/motion-words.ts'
import './text-field.ts'
import { WholeForm } from './whole-form.ts'

type How = 'none' | 'ratio' | 'bpm'

const HOW = [
  { value: 'none', text: 'none: lamps sound their notes' },
  { value: 'ratio', text: 'so many flashes to so many beats' },
  { value: 'bpm', text: 'so many flashes a minute' },
]
const TO_PITCH = [
  { value: 'never', text: 'nothing: always the pulse' },
  { value: 'controller', text: 'a controller, from pulse to pitch' },
]
/** MIDI 1.0: modulation wheel. */
const USUAL_CONTROLLER = 1
const USUAL_RATIO = '1:1'

/** Whether a part's lamps are driven as a pulse that is seen. Commits the whole of it (`lan-commit`, a Pulse, or null for none). */
export class LanPulseForm extends WholeForm<Pulse> {
  static override properties: PropertyDeclarations = {
    ...WholeForm.properties,
    tempo: { type: Number },
  }
  static override styles = [
    ...WholeForm.styles,
    css`
      .caution {
        grid-column: 1 / -1;
        margin: 0;
        padding-left: 0.7rem;
        border-left: 3px solid var(--warn);
      }
      .caution b {
        color: var(--warn);
      }
    `,
  ]
  /** Of the song. */
  declare tempo: Bpm

  constructor() {
    super()
    this.tempo = 120
  }

  override render(): TemplateResult {
    const { value } = this
    return html`<lan-select-field
        label="Pulse"
        fault=${this.fault}
        .value=${howOf(value)}
        .choices=${HOW}
        @lan-commit=${(event: CommitEvent<How>) => this.#how(event)}
      ></lan-select-field>
      ${value ? html`${this.#rate(value)} ${this.#toPitch(value)}` : nothing}
      ${value ? html`<p class="caution"><b>Caution.</b> ${pulseCaution(value, this.tempo)}</p>` : nothing}`
  }

  #rate(value: Pulse): TemplateResult {
    if ('bpm' in value)
      return html`<lan-number-field
        label="Flashes a minute"
        .min=${1}
        .max=${1800}
        .value=${value.bpm}
        @lan-commit=${(event: CommitEvent<number>) => this.commit(event, { ...value, bpm: event.value })}
      ></lan-number-field>`
    return html`<lan-text-field
      label="Flashes to beats"
      hint="3:2 is three flashes to two beats; they meet on the beat."
      .longest=${7}
      .check=${ratioFault}
      .value=${value.ratio}
      @lan-commit=${(event: CommitEvent<string>) => this.commit(event, { ...value, ratio: event.value })}
    ></lan-text-field>`
  }

  #toPitch(value: Pulse): TemplateResult {
    const { controller } = value
    return html`<lan-select-field
        label="Moved off the pulse by"
        .value=${controller === undefined ? 'never' : 'controller'}
        .choices=${TO_PITCH}
        @lan-commit=${(event: CommitEvent<string>) => {
          const { controller: _, ...rest } = value
          this.commit(event, event.value === 'never' ? rest : { ...rest, controller: USUAL_CONTROLLER })
        }}
      ></lan-select-field>
      ${
        controller === undefined
          ? nothing
          : html`<lan-number-field
              label="Pulse controller"
              hint="0 is the pulse, 127 the note’s pitch."
              whole
              .min=${0}
              .max=${119}
              .value=${controller}
              @lan-commit=${(event: CommitEvent<number>) =>
                this.commit(event, { ...value, controller: event.value })}
            ></lan-number-field>`
      }`
  }

  #how(event: CommitEvent<How>): void {
    const { value } = this
    const rest = value?.controller === undefined ? {} : { controller: value.controller }
    if (event.value === 'none') this.commit(event, null)
    else if (event.value === 'ratio') this.commit(event, { ratio: USUAL_RATIO, ...rest })
    // A ratio of 1:1 in the song's tempo flashes as often, as far as a pulse may.
    else this.commit(event, { bpm: Math.min(1800, Math.max(1, this.tempo)), ...rest })
  }
}

function ratioFault(text: string): string {
  return parseRatio(text) ? '' : `found ${text}; expected flashes to beats such as 3:2, each from 1 to 999`
}

function howOf(value: Pulse | undefined): How {
  if (!value) return 'none'
  return 'bpm' in value ? 'bpm' : 'ratio'
}

customElements.define('lan-pulse-form', LanPulseForm)
