import type { TemplateResult } from 'lit'
import { css, html, nothing } from 'lit'
import type { MidiLayout } from '../../../src/domain/rig.ts'
import { ask } from '../controllers/ask-event.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import type { Draft } from '../first-start/draft.ts'
import { LAYOUTS } from '../rig/layouts.ts'
import { serialPath } from '../rig/port-names.ts'
import { controls } from '../style/controls.ts'
import { rigSheet } from '../style/rig-sheet.ts'
import { FirstStartPiece } from './first-start-piece.ts'
import './port-field.ts'
import './port-list.ts'
import './select-field.ts'

type Wiring = NonNullable<Draft['wiring']>

const WAYS: readonly { readonly kind: Wiring; readonly name: string; readonly about: string }[] = [
  { kind: 'serial', name: 'A lamp box on a serial port', about: 'A USB or serial cable; exact rates.' },
  { kind: 'midi', name: 'A lamp box on MIDI', about: 'Notes and bends, as the box’s layout wants them.' },
  { kind: 'virtual', name: 'No lamps yet', about: 'Lamps in memory: everything works but the light.' },
]

/** The third question: how the lamps are wired. */
export class LanFirstStartWiring extends FirstStartPiece {
  static override styles = [
    controls,
    rigSheet,
    css`
      fieldset {
        border: 0;
        padding: 0;
        margin: 0;
        display: grid;
        gap: 0.6rem;
        max-width: 40rem;
      }
      legend {
        padding: 0;
        margin-bottom: 0.6rem;
      }
      .way {
        border: 1px solid var(--bar-strong);
        background: var(--pane);
        padding: 0.6rem 0.9rem;
      }
      .way.on {
        border-color: var(--light);
      }
      label {
        display: flex;
        align-items: center;
        gap: 0.8rem;
        min-height: var(--touch);
      }
      .about {
        color: var(--paper-soft);
      }
      .more {
        display: grid;
        gap: 0.8rem;
        padding: 0.4rem 0 0.4rem 2.3rem;
        max-width: 28rem;
      }
    `,
  ]

  override render(): TemplateResult {
    const { wiring } = this.draft
    const fault = this.faultAt('wiring')
    return html`<fieldset aria-describedby=${fault ? 'fault' : nothing}>
        <legend class="soft">Choose one; it can be changed in the Rig later.</legend>
        ${WAYS.map(
          ({ kind, name, about }) =>
            html`<div class="way ${wiring === kind ? 'on' : ''}">
              <label>
                <input
                  type="radio"
                  name="wiring"
                  .checked=${wiring === kind}
                  @change=${() => this.change({ wiring: kind })}
                />
                <span>${name}<br /><span class="about">${about}</span></span>
              </label>
              ${wiring === kind ? this.#more(kind) : nothing}
            </div>`,
        )}
      </fieldset>
      ${fault ? html`<p class="fault" id="fault" role="alert">${fault}</p>` : nothing}
      <lan-port-list .listed=${this.listed}></lan-port-list>`
  }

  #more(kind: Wiring): TemplateResult | typeof nothing {
    if (kind === 'virtual') return nothing
    const field = kind === 'serial' ? 'serialPort' : 'midiPort'
    const names = kind === 'serial' ? this.listed?.serial.map(serialPath) : this.listed?.midiOut
    return html`<div class="more">
      <lan-port-field
        .label=${'Port of the lamp box'}
        .nobody=${'not chosen yet'}
        .value=${this.draft[field]}
        .names=${names ?? []}
        .fault=${this.faultAt(field)}
        @lan-commit=${({ value }: CommitEvent<string>) => this.change({ [field]: value })}
      ></lan-port-field>
      ${
        kind === 'midi'
          ? html`<lan-select-field
              .label=${'Layout'}
              .choices=${LAYOUTS}
              .value=${this.draft.layout}
              .fault=${this.faultAt('layout')}
              @lan-commit=${({ value }: CommitEvent<MidiLayout>) => this.change({ layout: value })}
            ></lan-select-field>`
          : nothing
      }
      <div><button @click=${() => ask(this, { type: 'list-ports' })}>Look for ports again</button></div>
    </div>`
  }
}

customElements.define('lan-first-start-wiring', LanFirstStartWiring)
