import type { PropertyDeclarations, TemplateResult } from 'lit'
import { html, LitElement, nothing } from 'lit'
import { LockController } from '../controllers/gig-lock.ts'
import { controls } from '../style/controls.ts'
import { fields } from '../style/fields.ts'

/** What every field has: a name, a hint, what is wrong with it. The name stays for those who hear the page where `bare` hides it. */
export abstract class FieldElement extends LitElement {
  static override properties: PropertyDeclarations = {
    label: {},
    hint: {},
    fault: {},
    bare: { type: Boolean },
    disabled: { type: Boolean },
    look: { type: Boolean },
    own: { state: true },
  }
  static override styles = [controls, fields]
  static override shadowRootOptions = { ...LitElement.shadowRootOptions, delegatesFocus: true }

  declare label: string
  declare hint: string
  /** From outside, such as a refused edit; empty: none. */
  declare fault: string
  /** In a table, whose heads already name the columns. */
  declare bare: boolean
  declare disabled: boolean
  /** It changes what is seen here, not the show: the gig lock leaves it open. */
  declare look: boolean
  /** What the field itself finds wrong with what was typed. */
  declare protected own: string
  readonly #lock = new LockController(this)

  constructor() {
    super()
    this.label = ''
    this.hint = ''
    this.fault = ''
    this.bare = false
    this.disabled = false
    this.look = false
    this.own = ''
  }

  /** What was typed cannot be taken as it is. */
  get isRefusing(): boolean {
    return this.own !== ''
  }

  /** It cannot be changed now. */
  protected get isShut(): boolean {
    return this.disabled || this.isLocked
  }

  /** The gig lock is on: what the field says is to be read only. */
  protected get isLocked(): boolean {
    return this.#lock.isOn && !this.look
  }

  protected get wrong(): string {
    return this.own || this.fault
  }

  protected get describedBy(): string | typeof nothing {
    const ids = [...(this.hint ? ['hint'] : []), ...(this.wrong ? ['fault'] : [])]
    return ids.length === 0 ? nothing : ids.join(' ')
  }

  protected frame(entry: TemplateResult): TemplateResult {
    return html`<label for="entry" class=${this.bare ? 'unseen' : ''}>${this.label}</label> ${entry}
      ${this.hint ? html`<p class="hint" id="hint">${this.hint}</p>` : nothing}
      ${this.wrong ? html`<p class="fault" id="fault">${this.wrong}</p>` : nothing}`
  }
}
