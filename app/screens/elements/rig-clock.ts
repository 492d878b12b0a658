import type { TemplateResult } from 'lit'
import { html } from 'lit'
import type { ClockSettings } from '../../../src/domain/clock-settings.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { propose } from '../controllers/edit-event.ts'
import {
  addClockPort,
  followOne,
  removeClockPort,
  setAfterSleep,
  setClockPort,
  setFollowed,
} from '../rig/clock-edits.ts'
import { controls } from '../style/controls.ts'
import { rigSheet } from '../style/rig-sheet.ts'
import './port-field.ts'
import './port-state.ts'
import { RigPiece } from './rig-piece.ts'

const AFTER_SLEEP = [
  { value: 'stop', text: 'stand still until a song or a hit starts them' },
  { value: 'go-on', text: 'go on from where they stood' },
] satisfies { value: ClockSettings['afterSleep']; text: string }[]

/** Which clock is followed, which ports are sent one, and what becomes of the beats when the machine slept. */
export class LanRigClock extends RigPiece {
  static override styles = [controls, rigSheet]

  override render(): TemplateResult {
    const { send, afterSleep } = this.show.clock
    return html`<div class="head">
        <h2>Clock</h2>
        <button ?disabled=${this.isLocked} @click=${() => propose(this, 'clock send', addClockPort)}>
          Send a clock to another port
        </button>
      </div>
      <div class="cards">
        ${this.#followed()} ${send.map((port, place) => this.#card(port, place))}
        <section class="card" aria-label="After a sleep">
          <h3>After a sleep</h3>
          ${this.choice(
            'clock afterSleep',
            'Once the machine is awake, beats',
            afterSleep,
            AFTER_SLEEP,
            (value) => setAfterSleep(value as ClockSettings['afterSleep']),
          )}
        </section>
      </div>
      ${this.listFault('clock send')}
      <p class="note">
        24 clocks a beat, with Start as a song begins. Lamps are dark after a sleep in any case. Changing
        these ports opens all ports anew.
      </p>`
  }

  #followed(): TemplateResult {
    const { follow } = this.show.clock
    if (follow === undefined)
      return html`<section class="card" aria-label="Clock that is followed">
        <h3>No clock is followed</h3>
        <p class="soft">Songs have the tempo they say, or that is tapped.</p>
        <div class="ends">
          <button ?disabled=${this.isLocked} @click=${() => propose(this, 'clock follow', followOne)}>
            Follow a clock
          </button>
        </div>
      </section>`
    return html`<section class="card" aria-label="Clock that is followed">
      <h3>${follow} <span class="kind">is followed</span></h3>
      <lan-port-state .port=${this.ports.get('clock in')} .called=${follow}></lan-port-state>
      <lan-port-field
        .value=${follow}
        .names=${this.listed?.midiIn ?? []}
        .fault=${this.faultAt('clock follow')}
        @lan-commit=${({ value }: CommitEvent<string>) => propose(this, 'clock follow', setFollowed(value))}
      ></lan-port-field>
      <div class="ends">
        <button
          ?disabled=${this.isLocked}
          @click=${() => propose(this, 'clock follow', setFollowed(undefined))}
        >
          Follow no clock
        </button>
      </div>
    </section>`
  }

  #card(port: string, place: number): TemplateResult {
    const where = `clock send ${place}`
    // A lamp output's port that is sent a clock as well is told of there.
    const lamps = this.show.rig.outputs.find((output) => output.kind === 'midi' && output.port === port)
    return html`<section class="card" aria-label="Clock to ${port}">
      <h3>${port} <span class="kind">is sent a clock</span></h3>
      <lan-port-state .port=${this.ports.get(lamps?.id ?? `clock ${port}`)} .called=${port}></lan-port-state>
      <lan-port-field
        .value=${port}
        .names=${this.listed?.midiOut ?? []}
        .fault=${this.faultAt(where)}
        @lan-commit=${({ value }: CommitEvent<string>) => propose(this, where, setClockPort(place, value))}
      ></lan-port-field>
      <div class="ends">
        <button
          ?disabled=${this.isLocked}
          @click=${() => propose(this, 'clock send', removeClockPort(place))}
        >
          Send ${port} no clock
        </button>
      </div>
    </section>`
  }
}

customElements.define('lan-rig-clock', LanRigClock)
