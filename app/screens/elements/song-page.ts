import type { TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import { songFamily } from '../../../src/domain/song-family.ts'
import type { EnterAt } from '../../../src/domain/switching.ts'
import { ask } from '../controllers/ask-event.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { propose } from '../controllers/edit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { roomHref } from '../controllers/room-controller.ts'
import type { MakeEdit } from '../sheet/edit.ts'
import { keepVariant, removeSong, setSongField } from '../sheet/song-edits.ts'
import { controls } from '../style/controls.ts'
import { ENTER_AT_WORDS, ENTER_WORDS } from '../wording/switching-words.ts'
import './long-text-field.ts'
import './number-field.ts'
import './select-field.ts'
import './text-field.ts'

const AS_SHOW = ''
const ENTERS = Object.entries(ENTER_WORDS).map(([value, { short }]) => ({ value, text: short }))

/** A song as it stands in the night: what it is called, what its players are told, how one gets into it, and its variants. Tells edits (`lan-edit`). */
export class LanSongPage extends LitElement {
  static override properties = {
    show: { attribute: false },
    song: { attribute: false },
    playing: { attribute: false },
    fault: { attribute: false },
  }
  static override styles = [
    controls,
    css`
      :host {
        display: block;
      }
      h2 {
        font-style: italic;
        font-size: 1.6rem;
        margin-bottom: 0.2rem;
        overflow-wrap: anywhere;
      }
      h3 {
        margin: 1.2rem 0 0.5rem;
      }
      p {
        margin: 0 0 0.6rem;
      }
      .fields {
        display: grid;
        gap: 0.8rem;
      }
      .fields > * {
        display: block;
      }
      a {
        color: var(--paper);
        text-underline-offset: 0.2em;
        display: inline-block;
        min-height: 24px;
      }
      ul {
        list-style: none;
        margin: 0 0 0.8rem;
        padding: 0;
        border-top: 1px solid var(--bar);
      }
      li {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        justify-content: space-between;
        gap: 0.25rem 0.75rem;
        min-height: 52px;
        border-bottom: 1px solid var(--bar);
      }
      em {
        font-family: var(--plate-serif);
      }
      a[aria-current] {
        text-decoration: none;
        border-bottom: 3px solid var(--light);
      }
      .row {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
      }
      .fault {
        color: var(--grave);
      }
    `,
  ]
  declare show: Show
  declare song: Song
  declare playing: HouseView['song']
  declare fault: { readonly where: string; readonly message: string } | undefined
  readonly #lock = new LockController(this)

  override render(): TemplateResult {
    const { song, show } = this
    const of = show.songs.find(({ id }) => id === song.variantOf)
    return html`<h2>${song.title}</h2>
      ${of ? html`<p class="soft">a variant of <em>${of.title}</em></p>` : nothing}
      <p><a href=${roomHref('sheet', song.id)}>Its hook-up sheet: tempo, tuning, parts and lamps</a></p>
      ${this.#fields()} ${this.#variants()}
      ${this.#faultAt('place') ? html`<p class="fault" role="alert">${this.#faultAt('place')}</p>` : nothing}
      <div class="row">
        <button ?disabled=${this.#lock.isOn} @click=${() => this.#edit('place', keepVariant(song.id))}>
          Keep a variant of this song
        </button>
        <button
          ?disabled=${this.#lock.isOn || show.songs.length < 2}
          @click=${() => this.#edit('place', removeSong(song.id))}
        >
          Remove <em>${song.title}</em>
        </button>
      </div>`
  }

  #fields(): TemplateResult {
    const { song, show } = this
    return html`<div class="fields">
      <lan-text-field
        label="Title"
        fault=${this.#faultAt('title')}
        .value=${song.title}
        @lan-commit=${(event: CommitEvent<string>) => this.#set('title', event.value)}
      ></lan-text-field>
      <lan-long-text-field
        label="Notes for the players"
        hint="They can be read on the Stage, and are printed."
        fault=${this.#faultAt('notes')}
        .value=${song.notes}
        @lan-commit=${(event: CommitEvent<string>) => this.#set('notes', event.value)}
      ></lan-long-text-field>
      <lan-number-field
        label="Planned length"
        unit="minutes"
        hint="Empty: not said."
        fault=${this.#faultAt('minutes')}
        optional
        .min=${0}
        .max=${600}
        .step=${0.25}
        .value=${song.minutes ?? null}
        @lan-commit=${(event: CommitEvent<number | null>) => this.#set('minutes', event.value ?? undefined, 'length')}
      ></lan-number-field>
      <lan-select-field
        label="Begins, once asked for"
        fault=${this.#faultAt('enterAt')}
        .value=${song.enterAt ?? AS_SHOW}
        .choices=${[
          { value: AS_SHOW, text: `as the show has it: ${ENTER_AT_WORDS[show.switching.enterAt]}` },
          ...Object.entries(ENTER_AT_WORDS).map(([value, text]) => ({ value, text })),
        ]}
        @lan-commit=${(event: CommitEvent<EnterAt | ''>) => this.#set('enterAt', event.value || undefined, 'begin')}
      ></lan-select-field>
      <lan-select-field
        label="On entering"
        hint=${ENTER_WORDS[song.enter].long}
        fault=${this.#faultAt('enter')}
        .value=${song.enter}
        .choices=${ENTERS}
        @lan-commit=${(event: CommitEvent<string>) => this.#set('enter', event.value, 'entering')}
      ></lan-select-field>
    </div>`
  }

  #variants(): TemplateResult {
    const { show, song, playing } = this
    const family = songFamily(show.songs, song)
    if (family.length < 2)
      return html`<h3>Variants</h3>
        <p class="soft">
          None. A variant is another arrangement of the song, in the same place of the set list; one can go to
          it while the song plays.
        </p>`
    return html`<h3>Variants</h3>
      <ul>
        ${family.map((one) => {
          const isPlaying = one.id === playing?.song
          return html`<li>
            <a href=${roomHref('songs', one.id)} aria-current=${one === song ? 'true' : nothing}
              ><em>${one.title}</em></a
            >
            ${
              isPlaying
                ? html`<span>plays now</span>`
                : html`<button
                    aria-label="Go to ${one.title}"
                    @click=${() => ask(this, { type: 'song', song: one.id })}
                  >
                    Go to it
                  </button>`
            }
          </li>`
        })}
      </ul>`
  }

  #faultAt(where: string): string {
    return this.fault?.where === `song.${where}` ? this.fault.message : ''
  }

  #set(field: keyof Song & string, value: unknown, called: string = field): void {
    this.#edit(field, setSongField(this.song.id, field, value, called))
  }

  #edit(where: string, make: MakeEdit): void {
    propose(this, `song.${where}`, make)
  }
}

customElements.define('lan-song-page', LanSongPage)
