import type { TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { Show } from '../../../src/domain/show.ts'
import type { Control, ControlAct, ControlGesture } from '../../../src/domain/switching.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { propose } from '../controllers/edit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import { capital } from '../sheet/field-words.ts'
import {
  changeControl,
  gestureOf,
  numberOf,
  removeControl,
  withAct,
  withGesture,
} from '../songs/control-edits.ts'
import { controls } from '../style/controls.ts'
import { fieldGrid } from '../style/field-grid.ts'
import { ownerChip, ownerMark } from '../style/owner-mark.ts'
import { actWords, gestureWords } from '../wording/switching-words.ts'
import './key-field.ts'
import './number-field.ts'
import './select-field.ts'

const ANY_PROGRAM = 'any'
const ANY_CHANNEL = ''
const CHANNELS = Array.from({ length: 16 }, (_, at) => String(at + 1))
const PLAIN_ACTS: readonly ControlAct[] = ['next', 'previous', 'number', 'variant', 'dark', 'tap']

/** One control: who does what, and what comes of it. Tells edits (`lan-edit`), `lan-learn` where it is to be played, and `lan-open` where its fields shall be shown, or no more. */
export class LanControlForm extends LitElement {
  static override properties = {
    show: { attribute: false },
    control: { attribute: false },
    place: { type: Number },
    fault: {},
    isOpen: { type: Boolean },
  }
  static override styles = [
    controls,
    fieldGrid,
    css`
      :host {
        display: block;
      }
      h4 {
        display: flex;
        flex-wrap: wrap;
        gap: 0.2rem 0.6em;
        margin: 0;
        font: 600 1.0625rem var(--plate-sans);
      }
      .fields {
        grid-template-columns: repeat(auto-fit, minmax(min(12rem, 100%), 1fr));
        margin-top: 0.7rem;
      }
      .row {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
        margin-top: 0.7rem;
      }
      .fault {
        color: var(--grave);
        margin: 0.5rem 0 0;
      }
    `,
  ]
  declare show: Show
  declare control: Control
  /** In the list, from 1: what tells its buttons from those of the others. */
  declare place: number
  declare fault: string
  /** Its fields are shown. */
  declare isOpen: boolean
  readonly #lock = new LockController(this)

  constructor() {
    super()
    this.place = 1
    this.fault = ''
    this.isOpen = false
  }

  override render(): TemplateResult {
    const { show, control, place } = this
    const player = show.players.find(({ id }) => id === control.player)
    return html`<h4>
        ${ownerChip(ownerMark(show.players, control.player), player?.name ?? control.player)}
        <span>${gestureWords(control.on, player?.kind)}:</span> <span>${actWords(show, control.do)}</span>
      </h4>
      ${this.isOpen ? this.#fields() : nothing}
      ${this.fault ? html`<p class="fault" role="alert">${this.fault}</p>` : nothing}
      <div class="row">
        <button
          class="learn"
          ?disabled=${this.#lock.isOn}
          aria-label="Learn by playing, control ${place}"
          @click=${() => this.dispatchEvent(new Event('lan-learn'))}
        >
          Learn by playing
        </button>
        <button
          aria-expanded=${this.isOpen}
          aria-label="Change control ${place}"
          @click=${() => this.dispatchEvent(new Event('lan-open'))}
        >
          Change
        </button>
        <button
          ?disabled=${this.#lock.isOn}
          aria-label="Remove control ${place}"
          @click=${() => propose(this, 'controls', removeControl(control))}
        >
          Remove
        </button>
      </div>`
  }

  #fields(): TemplateResult {
    const { show, control } = this
    return html`<div class="fields">
      <lan-select-field
        label="Who"
        .value=${control.player}
        .choices=${show.players.map(({ id, name }) => ({ value: id, text: name }))}
        @lan-commit=${(event: CommitEvent<string>) => this.#change({ ...control, player: event.value })}
      ></lan-select-field>
      ${this.#gesture()}
      <lan-select-field
        class="act"
        label="What comes of it"
        .value=${JSON.stringify(control.do)}
        .choices=${this.#acts()}
        @lan-commit=${(event: CommitEvent<string>) =>
          this.#change(withAct(control, JSON.parse(event.value) as ControlAct))}
      ></lan-select-field>
    </div>`
  }

  #gesture(): TemplateResult {
    const { control, show } = this
    const { on } = control
    const player = show.players.find(({ id }) => id === control.player)
    const isAny = on.kind === 'program' && on.program === undefined
    return html`<lan-select-field
        label="Does"
        .value=${isAny ? ANY_PROGRAM : on.kind}
        .choices=${[
          { value: ANY_PROGRAM, text: 'any program change' },
          { value: 'program', text: 'one program change' },
          { value: 'controller', text: 'a pedal or controller' },
          { value: 'note', text: player?.kind === 'pads' ? 'a pad' : 'a key' },
        ]}
        @lan-commit=${(event: CommitEvent<string>) => this.#kind(event.value)}
      ></lan-select-field>
      ${isAny ? nothing : this.#number(on)}
      <lan-select-field
        label="Channel"
        .value=${on.channel === undefined ? ANY_CHANNEL : String(on.channel)}
        .choices=${[
          { value: ANY_CHANNEL, text: 'any of the player’s' },
          ...CHANNELS.map((channel) => ({ value: channel, text: channel })),
        ]}
        @lan-commit=${(event: CommitEvent<string>) => this.#channel(event.value)}
      ></lan-select-field>`
  }

  #number(on: ControlGesture): TemplateResult {
    if (on.kind === 'note')
      return html`<lan-key-field
        label="Which"
        .value=${on.key}
        @lan-commit=${(event: CommitEvent<number>) => this.#change({ ...this.control, on: { ...on, key: event.value } })}
      ></lan-key-field>`
    return html`<lan-number-field
      label=${on.kind === 'program' ? 'Program' : 'Controller'}
      hint=${on.kind === 'program' ? 'Counted from 0.' : 'Works as it rises to 64 or above.'}
      whole
      .min=${0}
      .max=${on.kind === 'program' ? 127 : 119}
      .value=${numberOf(on) ?? null}
      @lan-commit=${(event: CommitEvent<number>) =>
        this.#change({
          ...this.control,
          on: on.kind === 'program' ? { ...on, program: event.value } : { ...on, controller: event.value },
        })}
    ></lan-number-field>`
  }

  #acts(): { value: string; text: string }[] {
    const { show } = this
    const acts: ControlAct[] = [
      ...PLAIN_ACTS,
      ...show.songs.map(({ id }) => ({ song: id })),
      ...show.setList.map((_, at) => ({ place: at + 1 })),
      ...show.tunings.flatMap(({ id }) => [true, false].map((retune) => ({ tuning: id, retune }))),
    ]
    return acts.map((act) => ({ value: JSON.stringify(act), text: capital(actWords(show, act)) }))
  }

  #kind(kind: string): void {
    const { control } = this
    const { channel } = control.on
    const on: ControlGesture =
      kind === ANY_PROGRAM
        ? { kind: 'program', ...(channel === undefined ? {} : { channel }) }
        : gestureOf(kind as ControlGesture['kind'], control.on)
    this.#change(withGesture(control, on))
  }

  #channel(channel: string): void {
    const { channel: _, ...on } = this.control.on
    this.#change({
      ...this.control,
      on: channel === ANY_CHANNEL ? on : { ...on, channel: Number(channel) },
    })
  }

  #change(after: Control): void {
    propose(this, `control ${this.place}`, changeControl(this.control, after))
  }
}

customElements.define('lan-control-form', LanControlForm)
