import type { TemplateResult } from 'lit'
import { html, LitElement, nothing } from 'lit'
import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import { ask } from '../controllers/ask-event.ts'
import type { HouseView, TimeWord } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import { TabMemory } from '../controllers/tab-memory.ts'
import { roomHref } from '../controllers/room-controller.ts'
import type { SongPlace } from '../stage/song-place.ts'
import { songOf, songPlace } from '../stage/song-place.ts'
import { controls } from '../style/controls.ts'
import { stage } from '../style/stage.ts'
import { tempo } from '../wording/figures.ts'
import { COMING_WORDS } from '../wording/switching-words.ts'
import './lamp-plan.ts'
import './lamp-table.ts'
import './player-strip.ts'
import './song-jump.ts'
import './song-time.ts'
import './stage-guards.ts'
import './step-strip.ts'

const NOTES_SHOWN = new TabMemory('stage-notes')

/** The room for playing: which song, which is next, what each lamp and each player does. Read from two metres, in the dark. */
export class LanStageRoom extends LitElement {
  static override properties = {
    view: { attribute: false },
    isTable: { state: true },
    hasNotes: { state: true },
  }
  static override styles = [controls, stage]
  declare view: HouseView
  /** Lamps as a table, instead of the plan. */
  declare isTable: boolean
  /** The song's notes for the players are shown. */
  declare private hasNotes: boolean

  constructor() {
    super()
    this.view = NOTHING_YET
    this.isTable = false
    this.hasNotes = NOTES_SHOWN.isOn
  }

  override render(): TemplateResult {
    const { show } = this.view
    const place = songPlace(this.view)
    if (!show) return this.#empty()
    return html`${this.#head(show.show, place)}${this.#notes(place)}${this.#lamps(show.show, place)}
      ${this.#steps(show.show, place)} ${this.#guards(show.show, place)}
      <section class="players" aria-label="Players">
        <lan-player-strip .view=${this.view}></lan-player-strip>
      </section>`
  }

  #empty(): TemplateResult {
    return html`<header>
      <div class="label song">
        <p class="where">Stage</p>
        <h1>No show yet</h1>
        ${
          this.view.link === 'open'
            ? html`<p class="then"><a href=${roomHref('start')}>Make a show, or open one</a></p>`
            : html`<p class="then">It comes from the host.</p>`
        }
      </div>
    </header>`
  }

  #head(show: Show, place: SongPlace | undefined): TemplateResult {
    const song = place?.song
    return html`<header>
      <div class="label song">
        <p class="where">Stage${place ? `, ${place.words}` : ''}</p>
        <h1>${song?.title ?? 'No song yet'}</h1>
        ${this.#then(show, place)}
      </div>
      <div class="ways">
        <button
          ?disabled=${place?.hasPrevious !== true}
          @click=${() => ask(this, { type: 'go', to: 'previous' })}
        >
          Previous
        </button>
        <button
          class="on"
          ?disabled=${place?.hasNext !== true}
          @click=${() => ask(this, { type: 'go', to: 'next' })}
        >
          Next song
        </button>
        <lan-song-jump
          .show=${show}
          .playing=${this.view.song?.song ?? ''}
          .position=${place?.position ?? null}
        ></lan-song-jump>
        <p class="measures">
          ${song ? html`<span>${tempoNow(song, this.view.time)} a minute</span> <span>${song.beats} beats a bar</span> <span>tuning ${this.view.tuned ?? song.tuning}</span>` : nothing}
        </p>
      </div>
    </header>`
  }

  /** What comes next: in big words while it is waited for. */
  #then(show: Show, place: SongPlace | undefined): TemplateResult {
    const { coming } = this.view
    const next = songOf(show, coming?.song ?? undefined)
    const then = place?.next
      ? html`then <i>${place.next.title}</i>`
      : place?.hasNext === false
        ? 'the last of the set'
        : nothing
    return html`<div class="after">
      <div role="status">
        ${
          coming && next
            ? html`<p class="coming">${COMING_WORDS[coming.enterAt]}: <i>${next.title}</i></p>`
            : nothing
        }
      </div>
      ${
        coming && next
          ? html`<button class="stay" @click=${() => ask(this, { type: 'stay' })}>Stay</button>`
          : html`<p class="then">${then}</p>
              ${
                place?.variant
                  ? html`<button @click=${() => ask(this, { type: 'variant' })}>
                      Variant: <i>${place.variant.title}</i>
                    </button>`
                  : nothing
              }`
      }
      ${this.#tuned(place?.song)}
    </div>`
  }

  /** The tuning, where it is not the song's own, and the way back. */
  #tuned(song: Song | undefined): TemplateResult {
    const { tuned } = this.view
    const isOther = tuned !== null && song !== undefined
    return html`<div class="tuned" role="status">
        ${isOther ? html`<p>in the tuning <i>${tuned}</i></p>` : nothing}
      </div>
      ${
        isOther
          ? html`<button @click=${() => ask(this, { type: 'tune', tuning: null, retune: true })}>
              Back to its own: <i>${song.tuning}</i>
            </button>`
          : nothing
      }`
  }

  #notes(place: SongPlace | undefined): TemplateResult {
    if (!this.hasNotes) return html`<div></div>`
    const notes = place?.song?.notes ?? ''
    return html`<section class="notes" aria-label="Notes for the players">
      <p tabindex="0">${notes || html`<span class="soft">This song has no notes for its players.</span>`}</p>
    </section>`
  }

  #showNotes(): void {
    this.hasNotes = !this.hasNotes
    NOTES_SHOWN.set(this.hasNotes)
  }

  /** Where the patterns of the song's parts stand. */
  #steps(show: Show, place: SongPlace | undefined): TemplateResult {
    const { steps } = this.view
    if (!place?.song || steps.size === 0) return html`<div></div>`
    return html`<lan-step-strip .show=${show} .song=${place.song} .steps=${steps}></lan-step-strip>`
  }

  #guards(show: Show, place: SongPlace | undefined): TemplateResult {
    const { guards, figures } = this.view
    return html`<section aria-label="Guards">
      <lan-stage-guards
        .show=${show}
        .song=${place?.song}
        .counts=${guards}
        .now=${Math.max(guards?.at ?? 0, figures?.at ?? 0)}
      ></lan-stage-guards>
    </section>`
  }

  #lamps(show: Show, place: SongPlace | undefined): TemplateResult {
    const { lamps } = this.view
    const song = place?.song
    return html`<figure>
      <figcaption>
        <span><b>fig. 1</b> Lamps as they hang. Two rings: claimed or kept.</span>
        <lan-song-time .time=${this.view.time} .bar=${song?.beats ?? 4}></lan-song-time>
        <span class="ways-of-seeing">
          <button aria-pressed=${this.hasNotes} @click=${() => this.#showNotes()}>
            Notes for the players
          </button>
          <button
            aria-pressed=${this.isTable}
            @click=${() => {
              this.isTable = !this.isTable
            }}
          >
            As a table
          </button>
        </span>
      </figcaption>
      ${
        this.isTable
          ? html`<lan-lamp-table .show=${show} .song=${song} .lamps=${lamps}></lan-lamp-table>`
          : html`<lan-lamp-plan .show=${show} .song=${song} .lamps=${lamps}></lan-lamp-plan>`
      }
    </figure>`
  }
}

/** What is tapped, or estimated of a clock that is followed, in place of what the song says. */
function tempoNow(song: Song, time: TimeWord | undefined): string {
  return `${time?.isFollowed === true ? 'about ' : ''}${tempo(time?.tempo ?? song.tempo)}`
}

customElements.define('lan-stage-room', LanStageRoom)
