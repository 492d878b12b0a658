import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, nothing } from 'lit'
import type { Pattern } from '../../../src/domain/pattern.ts'
import { CommitEvent } from '../controllers/commit-event.ts'
import { capital, nameWords, valueWords } from '../sheet/field-words.ts'
import { faultOf, variantOf } from '../sheet/form-fault.ts'
import type { Field, NamedField } from '../sheet/form-model.ts'
import { startOf } from '../sheet/form-start.ts'
import type { Json } from '../sheet/json.ts'
import { isRecord, isSame } from '../sheet/json.ts'
import { variantWords } from '../sheet/variant-words.ts'
import { FieldElement } from './field-element.ts'
import './json-field.ts'
import './key-field.ts'
import type { NamedLamp } from './lamps-field.ts'
import './lamps-field.ts'
import './list-field.ts'
import './number-field.ts'
import './select-field.ts'
import './switch-field.ts'
import './text-field.ts'

type Of<Kind extends Field['kind']> = Extract<Field, { kind: Kind }>

export type NamedPattern = Pick<Pattern, 'id' | 'name'>

interface Way {
  readonly text: string
  /** What it begins with. */
  readonly start: Json
  readonly isChosen: boolean
}

/** One value of any kind, by the field that its schema makes. Commits the new value (`lan-commit`). */
export class LanOptionField extends FieldElement {
  static override properties: PropertyDeclarations = {
    ...FieldElement.properties,
    field: { attribute: false },
    value: { attribute: false },
    lamps: { attribute: false },
    patterns: { attribute: false },
    unit: {},
  }
  static override styles = [
    ...FieldElement.styles,
    css`
      :host,
      lan-select-field,
      lan-number-field,
      lan-text-field,
      lan-key-field,
      lan-json-field,
      lan-option-field {
        display: block;
      }
      fieldset {
        border: 0;
        border-left: 1px solid var(--bar-strong);
        margin: 0;
        padding: 0 0 0 0.9em;
        min-width: 0;
      }
      fieldset > * + *,
      .inner {
        margin-top: 0.4em;
      }
    `,
  ]

  declare field: Field
  declare value: Json | undefined
  /** The part's lamps, in its order. */
  declare lamps: readonly NamedLamp[]
  /** The song's patterns. */
  declare patterns: readonly NamedPattern[]
  declare unit: string

  constructor() {
    super()
    this.field = { kind: 'json' }
    this.lamps = []
    this.patterns = []
    this.unit = ''
  }

  override render(): TemplateResult {
    return html`<div @lan-commit=${(event: CommitEvent<unknown>) => this.#pass(event)}>${this.#entry()}</div>`
  }

  /** What comes from the field inside goes on as this field's own. Groups and variants have answered already. */
  #pass(event: CommitEvent<unknown>): void {
    event.stopPropagation()
    this.#commit(event.value as Json)
  }

  #entry(): TemplateResult {
    const { field } = this
    switch (field.kind) {
      case 'choice':
        return this.#choice(field)
      case 'number':
        return field.isKey ? this.#key() : this.#number(field)
      case 'switch':
        return html`<lan-switch-field
          label=${this.label}
          hint=${this.hint}
          fault=${this.fault}
          .value=${this.value === true}
        ></lan-switch-field>`
      case 'text':
        return this.#text(field)
      case 'lamp':
        return this.#lamp()
      case 'pattern':
        return this.#pattern()
      case 'lamps':
        return html`<lan-lamps-field
          label=${this.label}
          hint=${this.hint}
          fault=${this.fault}
          .least=${field.least}
          .lamps=${this.lamps}
          .value=${listOf(this.value) as readonly string[]}
        ></lan-lamps-field>`
      case 'list':
        return html`<lan-list-field
          label=${this.label}
          hint=${this.hint}
          fault=${this.fault}
          unit=${this.unit}
          .field=${field}
          .lamps=${this.lamps}
          .value=${listOf(this.value)}
        ></lan-list-field>`
      case 'group':
        return this.#group(field)
      case 'variants':
        return this.#variants(field)
      case 'json':
        return html`<lan-json-field
          label=${this.label}
          hint=${this.hint}
          fault=${this.fault}
          .value=${this.value}
        ></lan-json-field>`
    }
  }

  #choice({ choices }: Of<'choice'>): TemplateResult {
    return html`<lan-select-field
      label=${this.label}
      hint=${this.hint}
      fault=${this.fault}
      .value=${JSON.stringify(this.value)}
      .choices=${choices.map((choice) => ({ value: JSON.stringify(choice), text: valueWords(choice) }))}
      @lan-commit=${(event: CommitEvent<string>) => {
        event.stopPropagation()
        this.#commit(JSON.parse(event.value) as Json)
      }}
    ></lan-select-field>`
  }

  #number({ range }: Of<'number'>): TemplateResult {
    // `below` is not the number field's to know: the host refuses what is past it.
    return html`<lan-number-field
      label=${this.label}
      hint=${this.hint}
      fault=${this.fault}
      unit=${this.unit}
      ?whole=${range.isWhole}
      .min=${range.least ?? -Infinity}
      .max=${range.most ?? range.below ?? Infinity}
      .above=${range.above}
      .step=${1}
      .value=${typeof this.value === 'number' ? this.value : null}
    ></lan-number-field>`
  }

  #key(): TemplateResult {
    return html`<lan-key-field
      label=${this.label}
      hint=${this.hint}
      fault=${this.fault}
      .value=${typeof this.value === 'number' ? this.value : undefined}
    ></lan-key-field>`
  }

  #text(field: Of<'text'>): TemplateResult {
    return html`<lan-text-field
      label=${this.label}
      hint=${this.hint}
      fault=${this.fault}
      ?optional=${field.least === 0 && field.pattern === undefined}
      .longest=${field.most ?? 1000}
      .check=${(text: string) => faultOf(field, text) ?? ''}
      .value=${typeof this.value === 'string' ? this.value : ''}
    ></lan-text-field>`
  }

  #lamp(): TemplateResult {
    return html`<lan-select-field
      label=${this.label}
      hint=${this.hint}
      fault=${this.fault}
      .value=${typeof this.value === 'string' ? this.value : ''}
      .choices=${this.lamps.map(({ id, name }) => ({ value: id, text: name }))}
    ></lan-select-field>`
  }

  #pattern(): TemplateResult {
    return html`<lan-select-field
      label=${this.label}
      hint=${this.hint}
      fault=${this.fault}
      .value=${typeof this.value === 'string' ? this.value : ''}
      .choices=${this.patterns.map(({ id, name }) => ({ value: id, text: name }))}
    ></lan-select-field>`
  }

  #group({ fields }: Of<'group'>): TemplateResult {
    const value = isRecord(this.value) ? (this.value as Record<string, Json>) : {}
    return html`<fieldset>
      <legend class=${this.label ? '' : 'unseen'}>${this.label || 'Values'}</legend>
      ${this.hint ? html`<p class="hint">${this.hint}</p>` : nothing}
      ${fields.map((one) => this.#member(one, value))}
      ${this.fault ? html`<p class="fault">${this.fault}</p>` : nothing}
    </fieldset>`
  }

  #member({ name, field, about, usual }: NamedField, value: Record<string, Json>): TemplateResult {
    const { label, unit } = nameWords(name)
    return html`<lan-option-field
      label=${capital(label)}
      hint=${about}
      unit=${unit}
      .field=${field}
      .lamps=${this.lamps}
      .value=${value[name] ?? usual}
      @lan-commit=${(event: CommitEvent<Json>) => {
        event.stopPropagation()
        this.#commit({ ...value, [name]: event.value })
      }}
    ></lan-option-field>`
  }

  /** Words that stand for themselves are chosen from beside the other ways; another way has a field of its own below. */
  #variants({ variants }: Of<'variants'>): TemplateResult {
    const field = variants[variantOf(variants, this.value)]
    const ways = variants.flatMap((one): Way[] =>
      one.kind === 'choice'
        ? one.choices.map((choice) => ({
            text: valueWords(choice),
            start: choice,
            isChosen: isSame(choice, this.value),
          }))
        : [{ text: variantWords(one), start: this.#start(one), isChosen: one === field }],
    )
    return html`<lan-select-field
        label=${this.label}
        hint=${this.hint}
        fault=${this.fault}
        .value=${String(ways.findIndex(({ isChosen }) => isChosen))}
        .choices=${ways.map(({ text }, place) => ({ value: String(place), text }))}
        @lan-commit=${(event: CommitEvent<string>) => {
          event.stopPropagation()
          const way = ways[Number(event.value)]
          if (way) this.#commit(way.start)
        }}
      ></lan-select-field>
      ${
        field === undefined || field.kind === 'choice'
          ? nothing
          : html`<lan-option-field
              class="inner"
              label=${field.kind === 'group' ? '' : `${this.label}: ${variantWords(field)}`}
              unit=${this.unit}
              .field=${field}
              .lamps=${this.lamps}
              .value=${this.value}
            ></lan-option-field>`
      }`
  }

  #start(field: Field): Json {
    return startOf(
      field,
      this.lamps.map(({ id }) => id),
    )
  }

  #commit(value: Json): void {
    this.dispatchEvent(new CommitEvent(value))
  }
}

function listOf(value: Json | undefined): readonly Json[] {
  return Array.isArray(value) ? (value as readonly Json[]) : []
}

customElements.define('lan-option-field', LanOptionField)

declare global {
  interface HTMLElementTagNameMap {
    'lan-option-field': LanOptionField
  }
}
