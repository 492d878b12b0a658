import type { TemplateResult } from 'lit'
import { html, nothing } from 'lit'
import type {
  MidiLayout,
  MidiOutput,
  MtsForm,
  MtsOut,
  Output,
  SerialOutput,
} from '../../../src/domain/rig.ts'
import { ask } from '../controllers/ask-event.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { propose } from '../controllers/edit-event.ts'
import { LAYOUTS, TELLINGS } from '../rig/layouts.ts'
import { serialPath } from '../rig/port-names.ts'
import { prescalerFault, readPrescalers } from '../rig/prescaler-text.ts'
import { MIDI_NUMBERS, MTS_NUMBERS, SERIAL_NUMBERS, TIMER_NUMBERS } from '../rig/ranges.ts'
import {
  addOutput,
  lampsOn,
  NOT_CHOSEN,
  removeOutput,
  renameOutput,
  setLayout,
  setOutput,
  setTelling,
} from '../rig/wiring-edits.ts'
import { idFault } from '../sheet/new-id.ts'
import { controls } from '../style/controls.ts'
import { rigSheet } from '../style/rig-sheet.ts'
import { many } from '../wording/figures.ts'
import './port-field.ts'
import './port-list.ts'
import './port-state.ts'
import { otherIds, RigPiece } from './rig-piece.ts'

/** The outputs: which port each lamp box is on, and how it is spoken to. */
export class LanRigOutputs extends RigPiece {
  static override styles = [controls, rigSheet]

  override render(): TemplateResult {
    const add = (kind: Output['kind']): void => propose(this, 'outputs', addOutput(kind, NOT_CHOSEN))
    return html`<div class="head">
        <h2>Outputs</h2>
        <div class="buttons">
          <button @click=${() => ask(this, { type: 'list-ports' })}>Look for ports again</button>
          <button ?disabled=${this.isLocked} @click=${() => add('serial')}>Add a serial output</button>
          <button ?disabled=${this.isLocked} @click=${() => add('midi')}>Add a MIDI output</button>
        </div>
      </div>
      <div class="cards">${this.show.rig.outputs.map((output) => this.#card(output))}</div>
      ${this.listFault('outputs')}
      <lan-port-list .listed=${this.listed}></lan-port-list>`
  }

  #card(output: Output): TemplateResult {
    const { id, kind } = output
    return html`<section class="card" aria-label="Output ${id}">
      <h3>${id} <span class="kind">${kind === 'serial' ? 'serial lamp box' : 'MIDI lamp box'}</span></h3>
      <lan-port-state .port=${this.ports.get(id)} .called=${id}></lan-port-state>
      <div class="grid">
        ${this.text(`output ${id} id`, 'Id', id, (value) => renameOutput(id, value), {
          check: (text) => idFault(text, otherIds(this.show.rig.outputs, output)),
        })}
        ${this.#port(output)} ${output.kind === 'serial' ? this.#serial(output) : this.#midi(output)}
      </div>
      ${this.#end(id)}
    </section>`
  }

  #port({ id, kind, port }: Output): TemplateResult {
    const names = kind === 'serial' ? this.listed?.serial.map(serialPath) : this.listed?.midiOut
    return html`<lan-port-field
      .value=${port}
      .names=${names ?? []}
      .fault=${this.faultAt(`output ${id} port`)}
      @lan-commit=${({ value }: CommitEvent<string>) =>
        propose(this, `output ${id} port`, setOutput(id, 'port', { port: value }))}
    ></lan-port-field>`
  }

  #serial(output: SerialOutput): TemplateResult {
    const { id, timer } = output
    const plain = (field: keyof typeof SERIAL_NUMBERS): TemplateResult =>
      this.number(`output ${id} ${field}`, SERIAL_NUMBERS[field], output[field], (value) =>
        setOutput(id, SERIAL_NUMBERS[field].label.toLowerCase(), { [field]: value }),
      )
    const inTimer = (field: keyof typeof TIMER_NUMBERS): TemplateResult =>
      this.number(`output ${id} ${field}`, TIMER_NUMBERS[field], timer[field], (value) =>
        setOutput(id, TIMER_NUMBERS[field].label.toLowerCase(), { timer: { ...timer, [field]: value } }),
      )
    return html`${plain('baud')} ${plain('offsetMs')} ${inTimer('clockHz')} ${inTimer('bits')}
      <div class="wide">
        ${this.text(
          `output ${id} prescalers`,
          'Timer prescalers, rising',
          timer.prescalers.join(', '),
          (text) =>
            setOutput(id, 'prescalers', {
              timer: { ...timer, prescalers: readPrescalers(text) ?? timer.prescalers },
            }),
          { check: prescalerFault },
        )}
      </div>`
  }

  #midi(output: MidiOutput): TemplateResult {
    const { id, layout } = output
    const plain = (field: Exclude<keyof typeof MIDI_NUMBERS, 'dutyController'>): TemplateResult =>
      this.number(`output ${id} ${field}`, MIDI_NUMBERS[field], output[field], (value) =>
        setOutput(id, MIDI_NUMBERS[field].label.toLowerCase(), { [field]: value }),
      )
    return html`${this.choice(`output ${id} layout`, 'Layout', layout, LAYOUTS, (value) =>
      setLayout(output, value as MidiLayout),
    )}
    ${plain('firstChannel')}
    ${layout === 'note-per-lamp' ? plain('firstNote') : html`${plain('bendRange')} ${plain('bendBits')}`}
    ${this.number(
      `output ${id} dutyController`,
      MIDI_NUMBERS.dutyController,
      output.dutyController ?? null,
      (value) => setOutput(id, 'duty controller', { dutyController: value }),
      { optional: true, hint: 'Empty: duty is not sent.' },
      () => setOutput(id, 'duty controller', { dutyController: null }),
    )}
    ${plain('offsetMs')}
    ${this.choice(
      `output ${id} mts`,
      'Told the tuning of the song',
      output.mts?.form ?? '',
      TELLINGS,
      (value) => setTelling(output, value as MtsForm | ''),
    )}
    ${output.mts ? this.#telling(id, output.mts) : nothing}`
  }

  /** The octave forms have no program. */
  #telling(id: string, mts: MtsOut): TemplateResult {
    const plain = (field: keyof typeof MTS_NUMBERS, hint = ''): TemplateResult =>
      this.number(
        `output ${id} mts ${field}`,
        MTS_NUMBERS[field],
        mts[field],
        (value) => setOutput(id, MTS_NUMBERS[field].label.toLowerCase(), { mts: { ...mts, [field]: value } }),
        { hint },
      )
    const hasProgram = mts.form === 'keys' || mts.form === 'bulk'
    return html`${hasProgram ? plain('program') : nothing} ${plain('device', '127 is all of them.')}`
  }

  #end(id: string): TemplateResult {
    const lamps = lampsOn(this.show, 'output', id)
    const through = this.show.thru.filter(({ to }) => to === id).length
    if (this.show.rig.outputs.length === 1)
      return html`<p class="ends soft">A rig has at least one output.</p>`
    if (lamps > 0)
      return html`<p class="ends soft">
        To remove it, give its ${many(lamps, 'lamp')} another output first.
      </p>`
    return html`<div class="ends">
      <button ?disabled=${this.isLocked} @click=${() => propose(this, 'outputs', removeOutput(id))}>
        Remove output ${id}
      </button>
      ${through > 0 ? html`<span class="soft">with ${many(through, 'thing')} sent through to it</span>` : nothing}
    </div>`
  }
}

customElements.define('lan-rig-outputs', LanRigOutputs)
