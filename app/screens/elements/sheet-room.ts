import type { PropertyValues, TemplateResult } from 'lit'
import { html, LitElement, nothing } from 'lit'
import type { LampStatus } from '../../../src/contract/from-engine.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Part, Song } from '../../../src/domain/song.ts'
import { ask } from '../controllers/ask-event.ts'
import { EditController } from '../controllers/edit-controller.ts'
import type { EditEvent } from '../controllers/edit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import { RoomController, roomHref } from '../controllers/room-controller.ts'
import { isElsewhere } from '../controllers/view-slices.ts'
import { wanderWords } from '../sheet/motion-words.ts'
import { addPart, nextPartId } from '../sheet/part-edits.ts'
import { addSong, nextSongId } from '../sheet/song-edits.ts'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'
import { sheetRoom } from '../style/sheet-room.ts'
import { tempo } from '../wording/figures.ts'
import type { LanPartForm } from './part-form.ts'
import './part-form.ts'
import type { LanSheetGrid } from './sheet-grid.ts'
import './sheet-grid.ts'
import './song-form.ts'

const SHOWN: readonly (keyof HouseView)[] = ['link', 'welcome', 'show', 'song', 'lamps', 'editRefused']
const NO_LIGHT: ReadonlyMap<string, string> = new Map()
const NEW_SONG = 'New song'

/** The hook-up sheet of a song: its parts, their lamps, and everything about them that can be set. */
export class LanSheetRoom extends LitElement {
  static override properties = { view: { attribute: false } }
  static override styles = [controls, plate, sheetRoom]
  declare view: HouseView
  readonly #room = new RoomController(this)
  readonly #edits = new EditController(this)
  readonly #lock = new LockController(this)
  #lit: ReadonlyMap<string, string> = NO_LIGHT
  #kept: ReadonlyMap<string, string> = NO_LIGHT
  /** Id of the part whose form is shown. */
  #open: string | undefined
  #isShown = false
  #address = ''
  /** What shall be open once it is there. */
  #next: { readonly song: string; readonly part?: string } | undefined

  constructor() {
    super()
    this.view = NOTHING_YET
  }

  override shouldUpdate(changed: PropertyValues<this>): boolean {
    return !isElsewhere(changed, this.view, SHOWN)
  }

  override willUpdate(): void {
    this.#edits.see(this.view)
    const address = this.#room.rest.join('/')
    if (address !== this.#address) this.#edits.forget()
    this.#address = address
    if (this.#edits.fault) this.#next = undefined
    this.#goNext()
  }

  override render(): TemplateResult {
    const show = this.view.show?.show
    if (!show) {
      return html`<div class="plate">
        <h1 class="label">Hook-up sheet</h1>
        <p class="soft">The show is not here yet.</p>
      </div>`
    }
    const song = this.#song(show)
    return html`<div class="plate" @lan-edit=${(event: EditEvent) => this.#edit(event, show)}>
      <div class="head">
        <h1 class="label">Hook-up sheet</h1>
        <p class="soft">Which lamps each part may light, and in what order.</p>
      </div>
      ${this.#songs(show, song)} ${song ? this.#sheet(show, song) : nothing}
    </div>`
  }

  /** Whoever opens a part is led to its form, and back to its row when it is closed. */
  override updated(): void {
    const [, part] = this.#room.rest
    const before = this.#open
    this.#open = part
    if (before === part || !this.#isShown) {
      this.#isShown = this.view.show !== undefined
      return
    }
    if (part !== undefined) this.renderRoot.querySelector<LanPartForm>('lan-part-form')?.focus()
    else if (before !== undefined)
      this.renderRoot.querySelector<LanSheetGrid>('lan-sheet-grid')?.focusPart(before)
  }

  #song(show: Show): Song | undefined {
    const [asked] = this.#room.rest
    const wanted = asked === undefined || asked === '' ? this.view.song?.song : asked
    return show.songs.find(({ id }) => id === wanted) ?? show.songs[0]
  }

  #part(song: Song): Part | undefined {
    const [, asked] = this.#room.rest
    return song.parts.find(({ id }) => id === asked)
  }

  #songs(show: Show, chosen: Song | undefined): TemplateResult {
    return html`<nav class="songs" aria-label="Songs">
      <ul>
        ${show.songs.map(
          (song) =>
            html`<li>
              <a href=${roomHref('sheet', song.id)} aria-current=${song === chosen ? 'page' : nothing}>
                <em>${song.title}</em>
                ${song.id === this.view.song?.song ? html`<span class="playing">plays now</span>` : nothing}
              </a>
            </li>`,
        )}
        <li>
          <button ?disabled=${this.#lock.isOn} @click=${() => this.#addSong(show)}>Add a song</button>
        </li>
      </ul>
    </nav>`
  }

  #sheet(show: Show, song: Song): TemplateResult {
    const part = this.#part(song)
    const strategies = this.view.welcome?.strategies ?? []
    const { fault } = this.#edits
    return html`<div class="sheet">
      <section class="main">
        <h2><em>${song.title}</em></h2>
        <p class="soft figures">
          ${tempo(song.tempo)} beats a minute, ${song.beats} to the bar, tuning
          ${song.tuning}${song.wander ? `; ${wanderWords(song.wander)}` : ''}
        </p>
        ${
          song.parts.length === 0
            ? html`<p>No part yet: nobody lights a lamp in this song.</p>`
            : html`<lan-sheet-grid
                .show=${show}
                .song=${song}
                .strategies=${strategies}
                .lit=${this.#litIn(song)}
                .kept=${this.#keptIn(song)}
                chosen=${part?.id ?? ''}
                fault=${fault?.where === 'grid' ? fault.message : ''}
              ></lan-sheet-grid>`
        }
        <div class="tools">
          <button ?disabled=${this.#lock.isOn} @click=${() => this.#addPart(song)}>Add a part</button>
          ${part ? html`<a class="back" href=${roomHref('sheet', song.id)}>The song</a>` : nothing}
        </div>
        ${this.#notes(song)}
      </section>
      <aside class="side" aria-label=${part ? `Part ${part.id}` : 'The song'}>
        ${
          part
            ? html`<lan-part-form
                .show=${show}
                .song=${song}
                .chosen=${part}
                .strategies=${strategies}
                .fault=${fault}
              ></lan-part-form>`
            : html`<lan-song-form .show=${show} .song=${song} .fault=${fault}></lan-song-form>`
        }
      </aside>
    </div>`
  }

  #litIn(song: Song): ReadonlyMap<string, string> {
    this.#lit = this.#partsNow(song, this.#lit, ({ on, part }) => (on ? part : undefined))
    return this.#lit
  }

  #keptIn(song: Song): ReadonlyMap<string, string> {
    this.#kept = this.#partsNow(song, this.#kept, ({ claimedBy }) => claimedBy)
    return this.#kept
  }

  /** A part for each lamp, of the song that plays; the same map as long as it would say the same, so that the grid has nothing to do. */
  #partsNow(
    song: Song,
    before: ReadonlyMap<string, string>,
    partOf: (lamp: LampStatus) => string | undefined,
  ): ReadonlyMap<string, string> {
    if (song.id !== this.view.song?.song) return NO_LIGHT
    const parts = new Map<string, string>()
    for (const status of this.view.lamps.values()) {
      const part = partOf(status)
      if (part !== undefined) parts.set(status.lamp, part)
    }
    const isSame = parts.size === before.size && [...parts].every(([lamp, part]) => before.get(lamp) === part)
    return isSame ? before : parts
  }

  #notes(song: Song): TemplateResult {
    const undo = this.view.show?.undo ?? null
    return html`<p class="margin">
        Arrow keys go from cell to cell, Space puts a lamp into a part or takes it out, Alt with an arrow
        moves it earlier or later in the part’s order. Choose a part’s name for everything else about it.
      </p>
      ${
        song.id === this.view.song?.song
          ? html`<p class="margin">
              Changing the playing song darkens its lamps for a moment. Another tuning does not.
            </p>`
          : nothing
      }
      ${
        undo === null
          ? nothing
          : html`<p class="margin">
              Last change: ${undo}.
              <button ?disabled=${this.#lock.isOn} @click=${() => ask(this, { type: 'undo' })}>
                Undo it
              </button>
            </p>`
      }`
  }

  #edit(event: EditEvent, show: Show): void {
    event.stopPropagation()
    const song = this.#song(show)
    const part = song && this.#part(song)
    this.#edits.edit(event.where, event.make)
    // A part that gets another name stays open under it.
    const change = event.where === 'part.id' ? event.make(show)?.changes[0] : undefined
    if (song && part && change?.do === 'set' && typeof change.value === 'string') {
      this.#next = { song: song.id, part: change.value }
    }
  }

  #addPart(song: Song): void {
    const [first] = this.view.welcome?.strategies ?? []
    const kind =
      this.view.welcome?.strategies.find(({ options }) => !('required' in options))?.kind ?? first?.kind
    if (kind === undefined) return
    this.#next = { song: song.id, part: nextPartId(song) }
    this.#edits.edit('grid', addPart(song.id, kind))
  }

  #addSong(show: Show): void {
    this.#next = { song: nextSongId(show, NEW_SONG) }
    this.#edits.edit('grid', addSong(NEW_SONG))
  }

  #goNext(): void {
    const song = this.view.show?.show.songs.find(({ id }) => id === this.#next?.song)
    const next = this.#next
    if (!song || !next) return
    if (next.part !== undefined && !song.parts.some(({ id }) => id === next.part)) return
    this.#next = undefined
    location.hash = roomHref('sheet', song.id, ...(next.part === undefined ? [] : [next.part]))
  }
}

customElements.define('lan-sheet-room', LanSheetRoom)
