import type { PropertyValues, TemplateResult } from 'lit'
import { html, LitElement, nothing } from 'lit'
import type { Pattern } from '../../../src/domain/pattern.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import { ask } from '../controllers/ask-event.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { EditController } from '../controllers/edit-controller.ts'
import type { EditEvent } from '../controllers/edit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import { LearnController } from '../controllers/learn-controller.ts'
import { RoomController, roomHref } from '../controllers/room-controller.ts'
import type { StepChoiceEvent } from '../controllers/step-choice-event.ts'
import { isElsewhere } from '../controllers/view-slices.ts'
import type { Asked } from '../steps/chosen.ts'
import { chosenPattern, chosenSong, positionOf } from '../steps/chosen.ts'
import { addPattern, copyName, copyPattern, newName, nextPatternId } from '../steps/pattern-edits.ts'
import { partsOf } from '../steps/pattern-parts.ts'
import { rowName } from '../steps/pattern-place.ts'
import { addRow, MOST_ROWS } from '../steps/row-edits.ts'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'
import { sheetRoom } from '../style/sheet-room.ts'
import { stepsRoom } from '../style/steps-room.ts'
import './moving-light.ts'
import './pattern-form.ts'
import './pattern-pads.ts'
import './pattern-parts.ts'
import './select-field.ts'
import './step-form.ts'
import './step-grid.ts'

const SHOWN: readonly (keyof HouseView)[] = [
  'link',
  'welcome',
  'show',
  'song',
  'steps',
  'lamps',
  'editRefused',
  'learned',
]
/** Steps of a row that is added to no other. */
const FIRST_STEPS = 8

/** Step patterns, edited while they play; and below, what else moves in time. */
export class LanStepsRoom extends LitElement {
  static override properties = {
    view: { attribute: false },
    step: { state: true },
    only: { state: true },
    lamp: { state: true },
  }
  static override styles = [controls, plate, sheetRoom, stepsRoom]
  declare view: HouseView
  /** The chosen step. */
  declare private step: { readonly row: string; readonly index: number } | undefined
  /** A tap only chooses. */
  declare private only: boolean
  /** For the next row. */
  declare private lamp: string | undefined
  readonly #room = new RoomController(this)
  readonly #edits = new EditController(this)
  readonly #learn = new LearnController(this)
  readonly #lock = new LockController(this)
  /** A pattern that is worked on stays, though another runs meanwhile. */
  #pinned: { readonly song: string; readonly pattern: string } | undefined
  /** What shall be shown once it is there. */
  #next: { readonly song: string; readonly pattern: string } | undefined
  #address = ''

  constructor() {
    super()
    this.view = NOTHING_YET
    this.step = undefined
    this.only = false
    this.lamp = undefined
  }

  override shouldUpdate(changed: PropertyValues<this>): boolean {
    return !isElsewhere(changed, this.view, SHOWN)
  }

  override willUpdate(): void {
    this.#edits.see(this.view)
    this.#learn.see(this.view)
    const address = this.#room.rest.join('/')
    if (address !== this.#address) {
      this.#edits.forget()
      this.#pinned = undefined
    }
    this.#address = address
    if (this.#edits.fault) this.#next = undefined
    this.#goNext()
  }

  override render(): TemplateResult {
    const show = this.view.show?.show
    const asked = this.#asked()
    const song = show && chosenSong(show, asked)
    return html`<div class="plate" @lan-edit=${(event: EditEvent) => this.#edit(event)}>
      <div class="head">
        <h1 class="label">Steps</h1>
        <p class="soft">
          Patterns of steps, a row for each lamp; edited while they play, each row stays where it is.
        </p>
      </div>
      ${show && song ? this.#song(show, song, asked) : html`<p class="soft">The show is not here yet.</p>`}
      <lan-moving-light .view=${this.view}></lan-moving-light>
    </div>`
  }

  #asked(): Asked {
    const [song, pattern] = this.#room.rest
    const { view } = this
    const pinned = this.#pinned
    return {
      song: song || pinned?.song,
      pattern: pattern || pinned?.pattern,
      playing: view.song?.song,
      steps: view.steps,
    }
  }

  #song(show: Show, song: Song, asked: Asked): TemplateResult {
    const pattern = chosenPattern(song, asked)
    return html`<div class="song">
        ${this.#songs(show, song, asked)} ${this.#patterns(song, pattern, asked)}
      </div>
      ${pattern ? this.#pattern(show, song, pattern, asked) : nothing}`
  }

  #songs(show: Show, chosen: Song, { playing }: Asked): TemplateResult {
    return html`<lan-select-field
      look
      label="Song"
      .value=${chosen.id}
      .choices=${show.songs.map(({ id, title, patterns }) => ({
        value: id,
        text: `${title}${id === playing ? ', plays now' : ''}${patterns.length === 0 ? ', no pattern' : ''}`,
      }))}
      @lan-commit=${(event: CommitEvent<string>) => {
        location.hash = roomHref('steps', event.value)
      }}
    ></lan-select-field>`
  }

  #patterns(song: Song, chosen: Pattern | undefined, asked: Asked): TemplateResult {
    return html`<nav class="songs patterns list" aria-label="Patterns">
      <p>Pattern</p>
      <ul>
        ${song.patterns.map(
          (pattern) =>
            html`<li>
              <a
                href=${roomHref('steps', song.id, pattern.id)}
                aria-current=${pattern === chosen ? 'page' : nothing}
              >
                <em>${pattern.name}</em>
                ${positionOf(song, pattern, asked) ? html`<span class="playing">plays now</span>` : nothing}
              </a>
            </li>`,
        )}
        <li>
          <button ?disabled=${this.#lock.isOn} @click=${() => this.#add(song)}>Add a pattern</button>
        </li>
      </ul>
      ${song.patterns.length === 0 ? html`<p class="none">${song.title} has no pattern yet.</p>` : nothing}
      ${this.#faultOf('list')}
    </nav>`
  }

  #pattern(show: Show, song: Song, pattern: Pattern, asked: Asked): TemplateResult {
    const { fault } = this.#edits
    const { beginning, coming } = partsOf(song, pattern)
    const parts = [...beginning, ...coming]
    const lamps = [...new Set(parts.flatMap((part) => part.lamps))]
    const mayHave = lamps.length > 0 ? lamps : show.rig.lamps.map(({ id }) => id)
    const players = show.players.filter(({ id }) => parts.some(({ player }) => player === id))
    const row = pattern.rows.find(({ id }) => id === this.step?.row) ?? pattern.rows[0]
    const index = row ? Math.min(row.id === this.step?.row ? this.step.index : 0, row.steps.length - 1) : 0
    return html`<div class="sheet">
        <section class="main" @lan-step=${(event: StepChoiceEvent) => this.#choose(event, song, pattern)}>
          <div class="tools">
            <h2><em>${pattern.name}</em></h2>
            <div class="seen" role="group" aria-label="A tap">
              <button aria-pressed=${!this.only} @click=${() => (this.only = false)}>
                Tap sets and rests
              </button>
              <button aria-pressed=${this.only} @click=${() => (this.only = true)}>Tap chooses</button>
            </div>
          </div>
          ${
            pattern.rows.length === 0
              ? html`<p>No row yet: nothing sounds.</p>`
              : html`<lan-step-grid
                  .show=${show}
                  songId=${song.id}
                  .pattern=${pattern}
                  .position=${positionOf(song, pattern, asked)}
                  ?only=${this.only}
                  fault=${fault?.where === 'steps' ? fault.message : ''}
                ></lan-step-grid>`
          }
          ${this.#newRow(show, song, pattern, mayHave)}
          <p class="margin">
            Arrow keys go from step to step; Enter or Space makes a note or a rest; plus and minus move it by
            a semitone, Page Up and Page Down by an octave, a digit puts it into that octave; A accents,
            Delete rests. A stroke along a row makes all its steps the same.
          </p>
          ${this.#undo()}
        </section>
        ${
          row
            ? html`<aside class="side" aria-label="Step and row">
                <lan-step-form
                  .show=${show}
                  songId=${song.id}
                  .pattern=${pattern}
                  .row=${row}
                  .index=${index}
                  .lamps=${mayHave}
                  .fault=${fault}
                ></lan-step-form>
              </aside>`
            : nothing
        }
      </div>
      <div class="about">
        <section class="pane">
          <lan-pattern-form
            .show=${show}
            .song=${song}
            .pattern=${pattern}
            .fault=${fault}
            @lan-copy=${() => this.#copy(song, pattern)}
          ></lan-pattern-form>
        </section>
        <section class="pane">
          <lan-pattern-parts
            .show=${show}
            .song=${song}
            .pattern=${pattern}
            .fault=${fault}
          ></lan-pattern-parts>
        </section>
        <section class="pane wide">
          <lan-pattern-pads
            .show=${show}
            songId=${song.id}
            .pattern=${pattern}
            .player=${players.find(({ kind }) => kind === 'pads') ?? players[0]}
            .lamps=${mayHave}
            .learner=${this.#learn}
            .learning=${this.#learn.who}
            .heard=${this.#learn.heard}
            .fault=${fault}
          ></lan-pattern-pads>
        </section>
      </div>`
  }

  #newRow(show: Show, song: Song, pattern: Pattern, lamps: readonly string[]): TemplateResult {
    const free = lamps.find((id) => pattern.rows.every((row) => row.lamp !== id))
    const lamp = lamps.find((id) => id === this.lamp) ?? free ?? lamps[0] ?? ''
    const length = pattern.rows.at(-1)?.steps.length ?? FIRST_STEPS
    return html`<div class="below">
        <lan-select-field
          look
          label="Lamp of the next row"
          .value=${lamp}
          .choices=${lamps.map((id) => ({ value: id, text: rowName(show, { id, lamp: id }) }))}
          @lan-commit=${(event: CommitEvent<string>) => {
            this.lamp = event.value
          }}
        ></lan-select-field>
        <button
          ?disabled=${this.#lock.isOn || pattern.rows.length >= MOST_ROWS || lamp === ''}
          @click=${() => {
            this.lamp = undefined
            this.#edits.edit('rows', addRow({ song: song.id, pattern: pattern.id }, lamp, length))
          }}
        >
          Add a row
        </button>
      </div>
      ${this.#faultOf('rows')}`
  }

  #undo(): TemplateResult | typeof nothing {
    const undo = this.view.show?.undo ?? null
    if (undo === null) return nothing
    return html`<p class="margin">
      Last change: ${undo}.
      <button ?disabled=${this.#lock.isOn} @click=${() => ask(this, { type: 'undo' })}>Undo it</button>
    </p>`
  }

  #faultOf(where: string): TemplateResult | typeof nothing {
    const { fault } = this.#edits
    return fault?.where === where ? html`<p class="fault" role="alert">${fault.message}</p>` : nothing
  }

  #choose({ row, index }: StepChoiceEvent, song: Song, pattern: Pattern): void {
    this.#pinned = { song: song.id, pattern: pattern.id }
    this.step = { row, index }
  }

  #edit(event: EditEvent): void {
    event.stopPropagation()
    this.#edits.edit(event.where, event.make)
  }

  #add(song: Song): void {
    const name = newName(song)
    this.#next = { song: song.id, pattern: nextPatternId(song, name) }
    this.#edits.edit('list', addPattern(song.id, name))
  }

  #copy(song: Song, { id, name }: Pattern): void {
    this.#next = { song: song.id, pattern: nextPatternId(song, copyName(name)) }
    this.#edits.edit('pattern', copyPattern({ song: song.id, pattern: id }))
  }

  #goNext(): void {
    const next = this.#next
    const song = this.view.show?.show.songs.find(({ id }) => id === next?.song)
    if (!next || !song?.patterns.some(({ id }) => id === next.pattern)) return
    this.#next = undefined
    location.hash = roomHref('steps', next.song, next.pattern)
  }
}

customElements.define('lan-steps-room', LanStepsRoom)
