import type { PropertyDeclarations, PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import { ask } from '../controllers/ask-event.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { controls } from '../style/controls.ts'

interface Offered {
  readonly name: string
  readonly address: string
}

/** A tuning as a scale file and its keyboard mapping: asks the host for their text, and offers each as a file. */
export class LanScaleSave extends LitElement {
  static override properties: PropertyDeclarations = {
    tuning: {},
    written: { attribute: false },
    isReached: { type: Boolean },
    isAsked: { state: true },
    offered: { state: true },
  }
  static override styles = [
    controls,
    css`
      :host {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem 1rem;
        align-items: center;
      }
      a {
        display: inline-flex;
        align-items: center;
        min-height: var(--touch);
        color: inherit;
        text-underline-offset: 0.2em;
        overflow-wrap: anywhere;
      }
    `,
  ]
  declare tuning: string
  declare written: HouseView['scaleWritten']
  declare isReached: boolean
  declare private isAsked: boolean
  declare private offered: readonly Offered[]
  /** What was written before it was asked for: of a tuning that may have changed. */
  #before: HouseView['scaleWritten']

  constructor() {
    super()
    this.tuning = ''
    this.written = undefined
    this.isReached = false
    this.isAsked = false
    this.offered = []
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('tuning')) this.#forget()
    const { written } = this
    if (!this.isAsked || !written || written === this.#before || written.tuning !== this.tuning) return
    this.#forget()
    this.offered = [offer(`${this.tuning}.scl`, written.scl), offer(`${this.tuning}.kbm`, written.kbm)]
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    this.#forget()
  }

  override render(): TemplateResult {
    return html`<button
        ?disabled=${!this.isReached}
        aria-label="Save as files: tuning ${this.tuning}"
        @click=${() => this.#ask()}
      >
        Save as files
      </button>
      ${this.offered.map(({ name, address }) => html`<a href=${address} download=${name}>${name}</a>`)}
      <span role="status">${this.isAsked ? 'Asked the host for them.' : nothing}</span>`
  }

  #ask(): void {
    this.#forget()
    this.#before = this.written
    this.isAsked = true
    ask(this, { type: 'write-scale', tuning: this.tuning })
  }

  #forget(): void {
    for (const { address } of this.offered) URL.revokeObjectURL(address)
    this.offered = []
    this.isAsked = false
  }
}

function offer(name: string, text: string): Offered {
  return { name, address: URL.createObjectURL(new Blob([text], { type: 'text/plain' })) }
}

customElements.define('lan-scale-save', LanScaleSave)
