import type { PropertyDeclarations, TemplateResult } from 'lit'
import { html, nothing } from 'lit'
import { repeat } from 'lit/directives/repeat.js'
import { CommitEvent } from '../controllers/commit-event.ts'
import { moved } from '../sheet/list-order.ts'
import { FieldElement } from './field-element.ts'
import { orderedList } from '../style/ordered-list.ts'

export interface NamedLamp {
  readonly id: string
  readonly name: string
}

/** Lamps in an order: earlier, later, off the list, on to it. Commits the whole list of ids (`lan-commit`). */
export class LanLampsField extends FieldElement {
  static override properties: PropertyDeclarations = {
    ...FieldElement.properties,
    value: { attribute: false },
    lamps: { attribute: false },
    least: { type: Number },
    once: { type: Boolean },
    toAdd: { state: true },
  }
  static override styles = [...FieldElement.styles, orderedList]

  declare value: readonly string[]
  /** Those to choose from. */
  declare lamps: readonly NamedLamp[]
  declare least: number
  /** Each lamp once at most. */
  declare once: boolean
  declare private toAdd: string

  constructor() {
    super()
    this.value = []
    this.lamps = []
    this.least = 0
    this.once = false
    this.toAdd = ''
  }

  override render(): TemplateResult {
    const { value } = this
    return html`<fieldset>
      <legend class=${this.bare ? 'unseen' : ''}>${this.label}</legend>
      ${this.hint ? html`<p class="hint">${this.hint}</p>` : nothing}
      <ol>
        ${repeat(
          value,
          (id, place) => `${id} ${value.slice(0, place).filter((one) => one === id).length}`,
          (id, place) => this.#entry(id, place),
        )}
      </ol>
      ${this.#adder()} ${this.wrong ? html`<p class="fault" id="fault">${this.wrong}</p>` : nothing}
    </fieldset>`
  }

  #entry(id: string, place: number): TemplateResult {
    const { value } = this
    const name = this.#nameOf(id)
    return html`<li>
      <span class="name">${name}</span>
      <button
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
      </button>
      <button
        aria-label=${`${name} off the list`}
        ?disabled=${this.isShut || value.length <= this.least}
        @click=${() => this.#commit(value.filter((_, at) => at !== place))}
      >
        ×
      </button>
    </li>`
  }

  #adder(): TemplateResult | typeof nothing {
    const free = this.once ? this.lamps.filter(({ id }) => !this.value.includes(id)) : this.lamps
    const [first] = free
    if (!first) return nothing
    const chosen = free.find(({ id }) => id === this.toAdd) ?? first
    return html`<div class="adder">
      <select
        ?disabled=${this.isShut}
        aria-label=${`Lamp to add to ${this.label}`}
        @change=${(event: Event) => {
          this.toAdd = (event.target as HTMLSelectElement).value
        }}
      >
        ${free.map(
          ({ id, name }) => html`<option value=${id} .selected=${id === chosen.id}>${name}</option>`,
        )}
      </select>
      <button ?disabled=${this.isShut} @click=${() => this.#commit([...this.value, chosen.id])}>
        Add ${chosen.name}
      </button>
    </div>`
  }

  #nameOf(id: string): string {
    return this.lamps.find((lamp) => lamp.id === id)?.name ?? id
  }

  #commit(value: readonly string[]): void {
    this.dispatchEvent(new CommitEvent(value))
  }
}

customElements.define('lan-lamps-field', LanLampsField)

declare global {
  interface HTMLElementTagNameMap {
    'lan-lamps-field': LanLampsField
  }
}
