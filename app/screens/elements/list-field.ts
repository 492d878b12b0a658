import type { PropertyDeclarations, TemplateResult } from 'lit'
import { html, nothing } from 'lit'
import { CommitEvent } from '../controllers/commit-event.ts'
import type { Field } from '../sheet/form-model.ts'
import { startOf } from '../sheet/form-start.ts'
import type { Json } from '../sheet/json.ts'
import { moved } from '../sheet/list-order.ts'
import { orderedList } from '../style/ordered-list.ts'
import { FieldElement } from './field-element.ts'
import type { NamedLamp } from './lamps-field.ts'

type ListOf = Extract<Field, { kind: 'list' }>

/** A list of values, each with its own field. Entries that belong to lamps are called by them. Commits the whole list (`lan-commit`). */
export class LanListField extends FieldElement {
  static override properties: PropertyDeclarations = {
    ...FieldElement.properties,
    field: { attribute: false },
    value: { attribute: false },
    lamps: { attribute: false },
    unit: {},
    unordered: { type: Boolean },
  }
  static override styles = [...FieldElement.styles, orderedList]

  declare field: ListOf
  declare value: readonly Json[]
  declare lamps: readonly NamedLamp[]
  declare unit: string
  /** Entries are not moved: their order is no matter. */
  declare unordered: boolean

  constructor() {
    super()
    this.value = []
    this.lamps = []
    this.unit = ''
    this.unordered = false
  }

  override render(): TemplateResult {
    const { value, field, lamps } = this
    const most = field.isPerLamp ? Math.min(lamps.length, field.most ?? Infinity) : (field.most ?? Infinity)
    return html`<fieldset>
      <legend class=${this.bare ? 'unseen' : ''}>${this.label}</legend>
      ${this.hint ? html`<p class="hint">${this.hint}</p>` : nothing}
      <ol>
        ${value.map((entry, place) => this.#entry(entry, place))}
      </ol>
      <button ?disabled=${this.isShut || value.length >= most} @click=${() => this.#add()}>
        ${value.length < most && field.isPerLamp ? `Add one for ${this.#nameOf(value.length)}` : 'Add one'}
      </button>
      ${this.wrong ? html`<p class="fault" id="fault">${this.wrong}</p>` : nothing}
    </fieldset>`
  }

  #entry(entry: Json, place: number): TemplateResult {
    const { value, field } = this
    const name = this.#nameOf(place)
    return html`<li>
      <lan-option-field
        class="entry-field"
        .field=${field.item}
        .value=${entry}
        .lamps=${this.lamps}
        label=${name}
        unit=${this.unit}
        @lan-commit=${(event: CommitEvent<Json>) => {
          event.stopPropagation()
          this.#commit(value.map((one, at) => (at === place ? event.value : one)))
        }}
      ></lan-option-field>
      ${
        field.isPerLamp || this.unordered
          ? nothing
          : html`<button
                aria-label=${`${name} earlier`}
                ?disabled=${this.isShut || place === 0}
                @click=${() => this.#commit(moved(value, place, place - 1))}
              >
                ↑
              </button>
              <button
                aria-label=${`${name} later`}
                ?disabled=${this.isShut || place === value.length - 1}
                @click=${() => this.#commit(moved(value, place, place + 1))}
              >
                ↓
              </button>`
      }
      <button
        aria-label=${`Remove ${this.label}, ${name}`}
        ?disabled=${this.isShut || value.length <= field.least}
        @click=${() => this.#commit(value.filter((_, at) => at !== place))}
      >
        ×
      </button>
    </li>`
  }

  #nameOf(place: number): string {
    return (this.field.isPerLamp ? this.lamps[place]?.name : undefined) ?? `Entry ${place + 1}`
  }

  #add(): void {
    const ids = this.lamps.map(({ id }) => id)
    this.#commit([...this.value, startOf(this.field.item, ids, this.value.length)])
  }

  #commit(value: readonly Json[]): void {
    this.dispatchEvent(new CommitEvent(value))
  }
}

customElements.define('lan-list-field', LanListField)

declare global {
  interface HTMLElementTagNameMap {
    'lan-list-field': LanListField
  }
}
