import type { TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { OptionEvent } from '../controllers/option-event.ts'
import { capital, nameWords, valueWords } from '../sheet/field-words.ts'
import type { NamedField } from '../sheet/form-model.ts'
import { startOf } from '../sheet/form-start.ts'
import type { Json } from '../sheet/json.ts'
import { isSame } from '../sheet/json.ts'
import { controls } from '../style/controls.ts'
import type { NamedLamp } from './lamps-field.ts'
import type { NamedPattern } from './option-field.ts'
import './option-field.ts'
import './switch-field.ts'

/** A form for an object that a JSON Schema describes, such as a strategy's options. Tells each change by itself (`lan-option`). */
export class LanOptionForm extends LitElement {
  static override properties = {
    fields: { attribute: false },
    values: { attribute: false },
    lamps: { attribute: false },
    patterns: { attribute: false },
    faults: { attribute: false },
  }
  static override styles = [
    controls,
    css`
      :host {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(15rem, 100%), 1fr));
        gap: 0.9rem 1.2rem;
        align-items: start;
      }
    `,
  ]
  declare fields: readonly NamedField[]
  declare values: Readonly<Record<string, unknown>>
  declare lamps: readonly NamedLamp[]
  /** The song's patterns. */
  declare patterns: readonly NamedPattern[]
  /** By the option's name. */
  declare faults: (name: string) => string

  constructor() {
    super()
    this.fields = []
    this.values = {}
    this.lamps = []
    this.patterns = []
    this.faults = () => ''
  }

  override render(): TemplateResult {
    if (this.fields.length === 0) return html`<p class="soft">Nothing to set.</p>`
    return html`${this.fields.map((one) => this.#option(one))}`
  }

  #option(one: NamedField): TemplateResult {
    const { name, field, about, usual, isRequired } = one
    const { label, unit } = nameWords(name)
    const value = this.values[name] as Json | undefined
    const mayBeLeftOut = !isRequired && usual === undefined
    const isThere = value !== undefined || !mayBeLeftOut
    return html`<div>
      ${
        mayBeLeftOut
          ? html`<lan-switch-field
              label=${`Give ${[label, unit && `in ${unit}`].filter((word) => word).join(' ')}`}
              hint=${isThere ? '' : about}
              fault=${isThere ? '' : this.faults(name)}
              .value=${isThere}
              @lan-commit=${(event: CommitEvent<boolean>) => this.#give(event, one)}
            ></lan-switch-field>`
          : nothing
      }
      ${
        isThere
          ? html`<lan-option-field
              label=${capital(label)}
              hint=${hintOf(one, value)}
              fault=${this.faults(name)}
              unit=${unit}
              .field=${field}
              .value=${value ?? usual}
              .lamps=${this.lamps}
              .patterns=${this.patterns}
              @lan-commit=${(event: CommitEvent<Json>) => this.#set(event, name)}
            ></lan-option-field>`
          : nothing
      }
    </div>`
  }

  #give(event: CommitEvent<boolean>, { name, field }: NamedField): void {
    event.stopPropagation()
    const ids = this.lamps.map(({ id }) => id)
    const start = field.kind === 'pattern' ? (this.patterns[0]?.id ?? '') : startOf(field, ids)
    this.dispatchEvent(new OptionEvent(name, event.value ? start : undefined))
  }

  #set(event: CommitEvent<Json>, name: string): void {
    event.stopPropagation()
    this.dispatchEvent(new OptionEvent(name, event.value))
  }
}

/** What it does, and what is usual where it is not that. */
function hintOf({ about, usual }: NamedField, value: Json | undefined): string {
  const usualWords =
    usual === undefined || value === undefined || isSame(usual, value) ? '' : `Usually ${valueWords(usual)}.`
  const sentence = about === '' || /[.!?]$/.test(about) ? about : `${about}.`
  return [sentence, usualWords].filter((word) => word !== '').join(' ')
}

customElements.define('lan-option-form', LanOptionForm)

declare global {
  interface HTMLElementTagNameMap {
    'lan-option-form': LanOptionForm
  }
}
