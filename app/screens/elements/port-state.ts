import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { PortStatus } from '../../../src/contract/from-engine.ts'
import { ask } from '../controllers/ask-event.ts'
import { offeredPlaces, STATE_WORDS } from '../rig/port-names.ts'
import { controls } from '../style/controls.ts'

/** How a port is, and what can be done about it from here. */
export class LanPortState extends LitElement {
  static override properties: PropertyDeclarations = { port: { attribute: false }, called: {} }
  static override styles = [
    controls,
    css`
      :host {
        display: block;
      }
      p {
        margin: 0;
      }
      .state {
        border: 1px solid var(--bar-strong);
        padding: 0 0.5em;
        margin-right: 0.4em;
        white-space: nowrap;
      }
      .well {
        color: var(--calm);
      }
      .grave {
        color: var(--grave);
        border-color: var(--grave);
      }
      .asks {
        color: var(--warn);
        border-color: var(--warn);
      }
      .places {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
        margin-top: 0.5rem;
      }
    `,
  ]
  /** Undefined: nothing has been said of it yet. */
  declare port: PortStatus | undefined
  /** Whose port it is. */
  declare called: string

  constructor() {
    super()
    this.called = ''
  }

  override render(): TemplateResult {
    const { port } = this
    if (!port) return html`<p class="soft">nothing known of its port yet</p>`
    return html`<p>
        <span class="state ${toneOf(port.state)}">${STATE_WORDS[port.state]}</span>
        <span class="soft">${port.message}</span>
      </p>
      ${port.state === 'ambiguous' ? this.#places(port) : nothing}
      ${
        port.state === 'cut'
          ? html`<div class="places">
              <button @click=${() => ask(this, { type: 'listen-again', port: port.id })}>
                Listen to ${this.called} again
              </button>
            </div>`
          : nothing
      }`
  }

  #places({ id, message }: PortStatus): TemplateResult {
    return html`<div class="places" role="group" aria-label="Which port is ${this.called}">
      ${offeredPlaces(message).map(
        ({ place, name }) =>
          html`<button @click=${() => ask(this, { type: 'choose-port', port: id, place })}>
            ${name}, place ${place + 1}
          </button>`,
      )}
    </div>`
  }
}

function toneOf(state: PortStatus['state']): string {
  if (state === 'open' || state === 'ready') return 'well'
  return state === 'ambiguous' ? 'asks' : 'grave'
}

customElements.define('lan-port-state', LanPortState)
