import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import type { Show } from '../../../src/domain/show.ts'
import type {
  EqualTuning,
  KeyMap,
  ReceivedTuning,
  ScalePitch,
  ScaleTuning,
  TuningSpec,
} from '../../../src/domain/tuning-spec.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { propose } from '../controllers/edit-event.ts'
import { controls } from '../style/controls.ts'
import { fieldGrid } from '../style/field-grid.ts'
import type { TuningField } from '../tuning/tuning-edits.ts'
import { setTuningField } from '../tuning/tuning-edits.ts'
import { pitchesWords } from '../tuning/pitch-text.ts'
import './key-field.ts'
import './map-form.ts'
import './number-field.ts'
import './pitches-field.ts'
import './select-field.ts'
import './text-field.ts'

/** Everything of one tuning that can be set, its name apart. Tells edits (`lan-edit`), from the field that it calls `ID FIELD`. */
export class LanTuningFields extends LitElement {
  static override properties: PropertyDeclarations = {
    show: { attribute: false },
    tuning: { attribute: false },
    fault: { attribute: false },
  }
  static override styles = [
    controls,
    fieldGrid,
    css`
      lan-pitches-field,
      lan-map-form,
      .wide {
        grid-column: 1 / -1;
      }
      .wide {
        margin: 0;
      }
    `,
  ]
  declare show: Show
  declare tuning: TuningSpec
  /** Of the last edit. */
  declare fault: { readonly where: string; readonly message: string } | undefined

  override render(): TemplateResult {
    const { tuning } = this
    switch (tuning.kind) {
      case 'equal':
        return this.#equal(tuning)
      case 'scale':
        return this.#scale(tuning)
      case 'received':
        return this.#received(tuning)
    }
  }

  #equal(tuning: EqualTuning): TemplateResult {
    return html`${this.#number('steps', 'Equal steps', '', tuning.steps, { min: 1, max: 1000, whole: true })}
    ${this.#number('periodCents', 'Period', 'cents', tuning.periodCents, { above: 0, max: 12_000 })}
    ${this.#reference(tuning)}`
  }

  #scale(tuning: ScaleTuning): TemplateResult {
    return html`<lan-text-field
        label="Description"
        optional
        fault=${this.#faultAt('name')}
        .longest=${200}
        .value=${tuning.name}
        @lan-commit=${(event: CommitEvent<string>) => this.#set(event, 'name', event.value)}
      ></lan-text-field>
      ${this.#reference(tuning)}
      <lan-pitches-field
        label="Pitches over the first, which is 1/1"
        fault=${this.#faultAt('pitches')}
        .value=${tuning.pitches}
        @lan-commit=${(event: CommitEvent<readonly ScalePitch[]>) => this.#set(event, 'pitches', event.value)}
      ></lan-pitches-field>
      <p class="soft wide">${pitchesWords(tuning.pitches)}</p>
      <lan-map-form
        fault=${this.#faultAt('map')}
        .size=${tuning.pitches.length}
        .value=${tuning.map}
        @lan-commit=${(event: CommitEvent<KeyMap | null>) => this.#set(event, 'map', event.value ?? undefined)}
      ></lan-map-form>`
  }

  #received({ player, program, bank, base }: ReceivedTuning): TemplateResult {
    const { show } = this
    return html`<lan-select-field
        label="Sent by"
        fault=${this.#faultAt('player')}
        .value=${player}
        .choices=${show.players.map(({ id, name }) => ({ value: id, text: name }))}
        @lan-commit=${(event: CommitEvent<string>) => this.#set(event, 'player', event.value)}
      ></lan-select-field>
      ${this.#number('program', 'Tuning program', '', program, { min: 0, max: 127, whole: true })}
      ${this.#number('bank', 'Bank', '', bank ?? null, { min: 0, max: 127, whole: true, optional: true })}
      <lan-select-field
        label="Until it is sent, as"
        fault=${this.#faultAt('base')}
        .value=${base}
        .choices=${show.tunings.flatMap(({ id, kind }) => (kind === 'received' ? [] : [{ value: id, text: id }]))}
        @lan-commit=${(event: CommitEvent<string>) => this.#set(event, 'base', event.value)}
      ></lan-select-field>
      <p class="soft wide">
        By MIDI Tuning Standard messages. Tunings of an octave have no program and always count; without a
        bank, messages that name none count, and those of bank 0.
      </p>`
  }

  #reference({ refNote, refHz }: EqualTuning | ScaleTuning): TemplateResult {
    return html`<lan-key-field
        label="Reference key"
        fault=${this.#faultAt('refNote')}
        .value=${refNote}
        @lan-commit=${(event: CommitEvent<number>) => this.#set(event, 'refNote', event.value)}
      ></lan-key-field>
      ${this.#number('refHz', 'Reference pitch', 'Hz', refHz, { above: 0, max: 100_000 })}`
  }

  #number(
    field: TuningField,
    label: string,
    unit: string,
    value: number | null,
    { min = -Infinity, max, above, whole = false, optional = false }: Bounds,
  ): TemplateResult {
    return html`<lan-number-field
      label=${label}
      unit=${unit}
      fault=${this.#faultAt(field)}
      ?whole=${whole}
      ?optional=${optional}
      .min=${min}
      .max=${max}
      .above=${above}
      .value=${value}
      @lan-commit=${(event: CommitEvent<number | null>) => this.#set(event, field, event.value ?? undefined)}
    ></lan-number-field>`
  }

  #faultAt(field: TuningField): string {
    return this.fault?.where === `${this.tuning.id} ${field}` ? this.fault.message : ''
  }

  #set(event: Event, field: TuningField, value: unknown): void {
    event.stopPropagation()
    const { id } = this.tuning
    propose(this, `${id} ${field}`, setTuningField(id, field, value))
  }
}

interface Bounds {
  readonly min?: number
  readonly max: number
  readonly above?: number
  readonly whole?: boolean
  readonly optional?: boolean
}

customElements.define('lan-tuning-fields', LanTuningFields)
