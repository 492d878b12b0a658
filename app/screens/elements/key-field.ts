import type { PropertyDeclarations, TemplateResult } from 'lit'
import { html } from 'lit'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { CommitEvent as Commit } from '../controllers/commit-event.ts'
import { keyOf } from '../sheet/key-of.ts'
import { noteName } from '../wording/note-name.ts'
import { FieldElement } from './field-element.ts'
import './text-field.ts'

/** A key, shown and typed as a name or a number. Commits a number (`lan-commit`). */
export class LanKeyField extends FieldElement {
  static override properties: PropertyDeclarations = {
    ...FieldElement.properties,
    value: { attribute: false },
  }

  declare value: number | undefined

  constructor() {
    super()
    this.value = undefined
  }

  override render(): TemplateResult {
    const { value } = this
    return html`<lan-text-field
      label=${this.label}
      hint=${this.hint}
      fault=${this.fault}
      ?bare=${this.bare}
      ?disabled=${this.disabled}
      .value=${value === undefined ? '' : `${noteName(value)} (${value})`}
      .longest=${12}
      .check=${keyFault}
      @lan-commit=${(event: CommitEvent<string>) => this.#commit(event)}
    ></lan-text-field>`
  }

  #commit(event: CommitEvent<string>): void {
    event.stopPropagation()
    const key = keyOf(event.value)
    if (key !== undefined && key !== this.value) this.dispatchEvent(new Commit(key))
  }
}

function keyFault(text: string): string {
  return keyOf(text) === undefined ? 'expected a key such as C4 or 60, from 0 to 127' : ''
}

customElements.define('lan-key-field', LanKeyField)

declare global {
  interface HTMLElementTagNameMap {
    'lan-key-field': LanKeyField
  }
}
