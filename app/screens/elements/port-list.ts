import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import type { HouseView } from '../controllers/house-view.ts'
import { controls } from '../style/controls.ts'

/** The ports that the machine has, and what could not be listed. */
export class LanPortList extends LitElement {
  static override properties: PropertyDeclarations = { listed: { attribute: false } }
  static override styles = [
    controls,
    css`
      :host {
        display: block;
        margin-top: 1rem;
      }
      details {
        border: 1px solid var(--bar);
        padding: 0.3rem 0.9rem;
      }
      summary {
        cursor: pointer;
        padding: 0.6rem 0;
      }
      dl {
        display: grid;
        grid-template-columns: max-content 1fr;
        gap: 0.3rem 1rem;
        margin: 0 0 0.8rem;
      }
      dd {
        margin: 0;
        overflow-wrap: anywhere;
      }
      p {
        margin: 0.5rem 0;
        max-width: 90ch;
      }
      .trouble {
        color: var(--warn);
      }
    `,
  ]
  declare listed: HouseView['listed']

  override render(): TemplateResult {
    const { listed } = this
    if (!listed) return html`<p class="soft" role="status">Looking for the ports of this machine …</p>`
    const { midiIn, midiOut, serial, trouble } = listed
    const count = midiIn.length + midiOut.length + serial.length
    return html`${trouble.map((text) => html`<p class="trouble">${text}</p>`)}
      <details>
        <summary>${count === 0 ? 'No ports' : `${count} ports`} on this machine</summary>
        <dl>${row('MIDI in', midiIn)} ${row('MIDI out', midiOut)} ${row('Serial', serial)}</dl>
      </details>`
  }
}

function row(title: string, names: readonly string[]): TemplateResult {
  return html`<dt class="soft">${title}</dt>
    <dd>${names.length === 0 ? 'none' : names.map((name) => html`<div>${name}</div>`)}</dd>`
}

customElements.define('lan-port-list', LanPortList)
