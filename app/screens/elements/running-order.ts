import type { TemplateResult } from 'lit'
import { html, LitElement, nothing } from 'lit'
import { live } from 'lit/directives/live.js'
import type { Show } from '../../../src/domain/show.ts'
import { ask } from '../controllers/ask-event.ts'
import { propose } from '../controllers/edit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { roomHref } from '../controllers/room-controller.ts'
import type { MakeEdit } from '../sheet/edit.ts'
import { setSongField } from '../sheet/song-edits.ts'
import type { OrderPlace } from '../songs/running-order.ts'
import { notInOrder, runningOrder, sumWords } from '../songs/running-order.ts'
import { addToSetList, moveInSetList, removeFromSetList } from '../songs/set-list-edits.ts'
import { controls } from '../style/controls.ts'
import { runningOrderStyle } from '../style/running-order.ts'
import { playLength } from '../wording/figures.ts'
import { COMING_WORDS } from '../wording/switching-words.ts'

/** The set list as a printed running order, to be put in order, and to go to a place of it. Tells edits (`lan-edit`, from `setList`). */
export class LanRunningOrder extends LitElement {
  static override properties = {
    show: { attribute: false },
    playing: { attribute: false },
    coming: { attribute: false },
    chosen: {},
    fault: {},
    toAdd: { state: true },
  }
  static override styles = [controls, runningOrderStyle]
  declare show: Show
  declare playing: HouseView['song']
  declare coming: HouseView['coming']
  /** Id of the song whose page is open. */
  declare chosen: string
  declare fault: string
  declare private toAdd: string
  readonly #lock = new LockController(this)

  constructor() {
    super()
    this.chosen = ''
    this.fault = ''
    this.toAdd = ''
  }

  override render(): TemplateResult {
    const order = runningOrder(this.show, this.playing, this.coming)
    const { sum, aside } = sumWords(order)
    return html`<ol aria-label="Running order">
        ${order.map((one) => this.#place(one))}
      </ol>
      <p class="sum figures">
        <span>Planned together${aside ? html` <span class="soft">(${aside})</span>` : nothing}</span>
        <b>${sum}</b>
      </p>
      ${this.fault ? html`<p class="fault" role="alert">${this.fault}</p>` : nothing} ${this.#adder()}
      ${this.#others()}`
  }

  #place(one: OrderPlace): TemplateResult {
    const { place, song, isPlaying, playing, isComing } = one
    return html`<li class=${song.skip ? 'skipped' : ''}>
      <span class="number figures" aria-hidden="true">${place + 1}</span>
      <div class="what">
        <p>
          <a href=${roomHref('songs', song.id)} aria-current=${song.id === this.chosen ? 'true' : nothing}
            ><em>${song.title}</em></a
          >
          ${isPlaying ? html`<span class="state">plays now${playing ? html`: <em>${playing.title}</em>` : ''}</span>` : nothing}
          ${isComing ? html`<span class="state">${COMING_WORDS[this.coming?.enterAt ?? 'now']}</span>` : nothing}
        </p>
        ${this.#variants(one)} ${song.notes ? html`<p class="notes">${song.notes}</p>` : nothing}
      </div>
      <span class="length figures">${this.#length(one)}</span>
      ${this.#tools(one)}
    </li>`
  }

  #length({ song }: OrderPlace): TemplateResult {
    if (song.minutes === undefined) return html`<span class="soft">not said</span>`
    const words = playLength(song.minutes)
    return song.skip ? html`<span class="soft">(${words})</span>` : html`${words}`
  }

  #variants({ variants }: OrderPlace): TemplateResult | typeof nothing {
    if (variants.length === 0) return nothing
    return html`<p class="variants soft">
      or
      ${variants.map(
        ({ id, title }, at) =>
          html`${at > 0 ? ', ' : ''}<a
              href=${roomHref('songs', id)}
              aria-current=${id === this.chosen ? 'true' : nothing}
              ><em>${title}</em></a
            >`,
      )}
    </p>`
  }

  #tools({ place, song }: OrderPlace): TemplateResult {
    const count = this.show.setList.length
    const name = `${song.title}, ${place + 1} of ${count}`
    const isShut = this.#lock.isOn
    return html`<div class="tools">
      <button
        aria-label="${name}: go to it"
        @click=${() => ask(this, { type: 'song', song: song.id, position: place })}
      >
        Go to it
      </button>
      <button
        aria-label="${name}: earlier"
        ?disabled=${isShut || place === 0}
        @click=${() => this.#edit(moveInSetList(place, -1))}
      >
        ↑
      </button>
      <button
        aria-label="${name}: later"
        ?disabled=${isShut || place === count - 1}
        @click=${() => this.#edit(moveInSetList(place, 1))}
      >
        ↓
      </button>
      <button
        aria-label="${name}: off the set list"
        ?disabled=${isShut || count === 1}
        @click=${() => this.#edit(removeFromSetList(place))}
      >
        ×
      </button>
      <label class="tonight">
        <input
          type="checkbox"
          aria-label="${name}: not tonight"
          ?disabled=${isShut}
          .checked=${live(song.skip)}
          @change=${(event: Event) => this.#skip(event.target as HTMLInputElement, song.id, song.skip)}
        />
        Not tonight
      </label>
    </div>`
  }

  #adder(): TemplateResult | typeof nothing {
    const { songs } = this.show
    const chosen = songs.find(({ id }) => id === this.toAdd) ?? songs[0]
    if (!chosen) return nothing
    return html`<div class="adder">
      <select
        aria-label="Song to add to the set list"
        ?disabled=${this.#lock.isOn}
        @change=${(event: Event) => {
          this.toAdd = (event.target as HTMLSelectElement).value
        }}
      >
        ${songs.map(
          ({ id, title }) => html`<option value=${id} .selected=${id === chosen.id}>${title}</option>`,
        )}
      </select>
      <button ?disabled=${this.#lock.isOn} @click=${() => this.#edit(addToSetList(chosen.id))}>
        Add at the end
      </button>
    </div>`
  }

  #others(): TemplateResult | typeof nothing {
    const others = notInOrder(this.show)
    if (others.length === 0) return nothing
    return html`<p class="others">
      Not in the set list:
      ${others.map(
        ({ id, title }, at) =>
          html`${at > 0 ? ', ' : ''}<a
              href=${roomHref('songs', id)}
              aria-current=${id === this.chosen ? 'true' : nothing}
              ><em>${title}</em></a
            >`,
      )}
    </p>`
  }

  #skip(box: HTMLInputElement, song: string, before: boolean): void {
    const { checked } = box
    // What is shown is what holds, until the show says otherwise.
    box.checked = before
    this.#edit(setSongField(song, 'skip', checked, 'not tonight'))
  }

  #edit(make: MakeEdit): void {
    propose(this, 'setList', make)
  }
}

customElements.define('lan-running-order', LanRunningOrder)
