import type { PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import { ask } from '../controllers/ask-event.ts'
import { EditController } from '../controllers/edit-controller.ts'
import type { EditEvent } from '../controllers/edit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import { LearnController } from '../controllers/learn-controller.ts'
import { RoomController, roomHref } from '../controllers/room-controller.ts'
import { isElsewhere } from '../controllers/view-slices.ts'
import { addSong, nextSongId, nextVariant } from '../sheet/song-edits.ts'
import { isGesture } from '../songs/learned-control.ts'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'
import { COMING_WORDS } from '../wording/switching-words.ts'
import './printable-sheet.ts'
import './running-order.ts'
import './song-page.ts'
import './switching-form.ts'

const SHOWN: readonly (keyof HouseView)[] = [
  'link',
  'show',
  'song',
  'coming',
  'learned',
  'sheet',
  'editRefused',
]
const NEW_SONG = 'New song'

/** The night: its songs in their order, what each is for its players, and how one comes from one to the next. */
export class LanSongsRoom extends LitElement {
  static override properties = { view: { attribute: false } }
  static override styles = [
    controls,
    plate,
    css`
      :host {
        display: block;
        container-type: inline-size;
      }
      .night,
      .two {
        display: grid;
        grid-template-columns: minmax(0, 1fr);
        gap: 1.5rem;
        align-items: start;
      }
      .tools {
        margin-top: 0.9rem;
      }
      em {
        font-family: var(--plate-serif);
      }
      .coming {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem 1rem;
        align-items: center;
        font-size: 1.25rem;
      }
      @container (min-width: 1000px) {
        .two {
          grid-template-columns: minmax(0, 1fr) 20rem;
        }
      }
    `,
  ]
  declare view: HouseView
  readonly #room = new RoomController(this)
  readonly #edits = new EditController(this)
  readonly #learner = new LearnController(this, isGesture)
  readonly #lock = new LockController(this)
  #address = ''
  /** The song whose page shall be open once it is there. */
  #next: string | undefined

  constructor() {
    super()
    this.view = NOTHING_YET
  }

  override shouldUpdate(changed: PropertyValues<this>): boolean {
    return !isElsewhere(changed, this.view, SHOWN)
  }

  override willUpdate(): void {
    this.#edits.see(this.view)
    this.#learner.see(this.view)
    const address = this.#room.rest.join('/')
    if (address !== this.#address) this.#edits.forget()
    this.#address = address
    if (this.#edits.fault) this.#next = undefined
    if (this.#next === undefined || !this.view.show?.show.songs.some(({ id }) => id === this.#next)) return
    location.hash = roomHref('songs', this.#next)
    this.#next = undefined
  }

  override render(): TemplateResult {
    const show = this.view.show?.show
    return html`<div class="plate">
      <div class="head">
        <h1 class="label">Songs</h1>
        <p class="soft">
          ${show ? 'The order of the evening, what the players are told, and how one song comes after another.' : 'The show is not here yet.'}
        </p>
      </div>
      ${show ? this.#content(show) : nothing}
    </div>`
  }

  #content(show: Show): TemplateResult {
    const { fault } = this.#edits
    const song = this.#song(show)
    return html`<div class="night" @lan-edit=${(event: EditEvent) => this.#edit(event, show)}>
      ${this.#coming(show)}
      <div class="two">
        <section aria-labelledby="order">
          <h2 id="order">Set list</h2>
          <lan-running-order
            .show=${show}
            .playing=${this.view.song}
            .coming=${this.view.coming}
            .chosen=${song?.id ?? ''}
            .fault=${fault?.where === 'setList' ? fault.message : ''}
          ></lan-running-order>
          <div class="tools">
            <button ?disabled=${this.#lock.isOn} @click=${() => this.#addSong(show)}>Write a new song</button>
          </div>
        </section>
        ${
          song
            ? html`<aside class="pane" aria-label="The chosen song">
                <lan-song-page
                  .show=${show}
                  .song=${song}
                  .playing=${this.view.song}
                  .fault=${fault}
                ></lan-song-page>
              </aside>`
            : nothing
        }
      </div>
      <section class="pane" aria-labelledby="changing">
        <h2 id="changing">From song to song</h2>
        <lan-switching-form
          .show=${show}
          .fault=${fault}
          .learner=${this.#learner}
          .learning=${this.#learner.who}
          .heard=${this.#learner.heard}
        ></lan-switching-form>
      </section>
      <section class="pane" aria-labelledby="paper">
        <h2 id="paper">Printable sheet</h2>
        <lan-printable-sheet
          .sheet=${this.view.sheet}
          .isReached=${this.view.link === 'open'}
        ></lan-printable-sheet>
      </section>
    </div>`
  }

  #coming(show: Show): TemplateResult {
    const { coming } = this.view
    const song = show.songs.find(({ id }) => id === coming?.song)
    return html`<div class="coming" role="status">
      ${
        coming && song
          ? html`<p>${COMING_WORDS[coming.enterAt]}: <em>${song.title}</em></p>
              <button @click=${() => ask(this, { type: 'stay' })}>Stay</button>`
          : nothing
      }
    </div>`
  }

  #song(show: Show): Song | undefined {
    const [asked] = this.#room.room === 'songs' ? this.#room.rest : []
    const wanted = asked === undefined || asked === '' ? this.view.song?.song : asked
    return show.songs.find(({ id }) => id === wanted) ?? show.songs[0]
  }

  #edit(event: EditEvent, show: Show): void {
    event.stopPropagation()
    // A variant that is kept is the one to be worked on.
    const song = this.#song(show)
    const [change] = event.where === 'song.place' ? (event.make(show)?.changes ?? []) : []
    if (song && change?.do === 'insert') this.#next = nextVariant(show, song).id
    this.#edits.edit(event.where, event.make)
  }

  #addSong(show: Show): void {
    this.#next = nextSongId(show, NEW_SONG)
    this.#edits.edit('setList', addSong(NEW_SONG))
  }
}

customElements.define('lan-songs-room', LanSongsRoom)
