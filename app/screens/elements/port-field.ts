import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { CommitEvent } from '../controllers/commit-event.ts'
import './select-field.ts'
import './text-field.ts'
import type { Choice } from './select-field.ts'

const OTHER = '\u0000other'

/** A port: one of those there are, or another by name. Commits its name; where `nobody` has a text, also the empty one. */
export class LanPortField extends LitElement {
  static override properties: PropertyDeclarations = {
    label: {},
    value: {},
    names: { attribute: false },
    fault: {},
    hint: {},
    nobody: {},
    isNaming: { state: true },
  }
  static override shadowRootOptions = { ...LitElement.shadowRootOptions, delegatesFocus: true }
  static override styles = css`
    :host {
      display: block;
    }
    lan-select-field,
    lan-text-field {
      display: block;
    }
    lan-text-field {
      margin-top: 0.4rem;
    }
  `
  declare label: string
  declare value: string
  declare names: readonly string[]
  declare fault: string
  declare hint: string
  /** What the choice of no port is called; empty: there is none. */
  declare nobody: string
  declare private isNaming: boolean

  constructor() {
    super()
    this.label = 'Port'
    this.value = ''
    this.names = []
    this.fault = ''
    this.hint = ''
    this.nobody = ''
    this.isNaming = false
  }

  override render(): TemplateResult {
    const { value, names } = this
    const choices: Choice[] = [
      ...(this.nobody ? [{ value: '', text: this.nobody }] : []),
      ...(value !== '' && !names.includes(value) ? [{ value, text: value }] : []),
      // Equal names are one choice; which of them it is, is asked when it opens.
      ...[...new Set(names)].map((name) => ({ value: name, text: name })),
      { value: OTHER, text: 'another, by name …' },
    ]
    return html`<lan-select-field
        .label=${this.label}
        .hint=${this.hint}
        .choices=${choices}
        .value=${this.isNaming ? OTHER : value}
        .fault=${this.fault}
        @lan-commit=${(event: CommitEvent<string>) => this.#choose(event)}
      ></lan-select-field>
      ${
        this.isNaming
          ? html`<lan-text-field
              .label=${`${this.label}: its name`}
              .value=${value}
              @lan-commit=${() => void (this.isNaming = false)}
            ></lan-text-field>`
          : nothing
      }`
  }

  #choose(event: CommitEvent<string>): void {
    this.isNaming = event.value === OTHER
    if (!this.isNaming) return
    event.stopPropagation()
    void this.updateComplete.then(() => this.renderRoot.querySelector('lan-text-field')?.focus())
  }
}

customElements.define('lan-port-field', LanPortField)
