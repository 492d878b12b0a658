import type { TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { FlashGuard } from '../../../src/domain/flash-guard.ts'
import type { Wander } from '../../../src/domain/part-motion.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { propose } from '../controllers/edit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import { roomHref } from '../controllers/room-controller.ts'
import type { MakeEdit } from '../sheet/edit.ts'
import { setSongFlash } from '../sheet/guard-edits.ts'
import type { Field } from '../sheet/form-model.ts'
import { duplicateSong, removeSong, setSongField } from '../sheet/song-edits.ts'
import { controls } from '../style/controls.ts'
import { fieldGrid } from '../style/field-grid.ts'
import './flash-guard-form.ts'
import './list-field.ts'
import './number-field.ts'
import './select-field.ts'
import './text-field.ts'
import './wander-form.ts'

const TAKES: Extract<Field, { kind: 'list' }> = {
  kind: 'list',
  item: { kind: 'text', format: 'take', pattern: undefined, least: 1, most: 1000 },
  least: 0,
  most: 64,
  isPerLamp: false,
}

/** What a song is, apart from its parts. Tells edits (`lan-edit`). */
export class LanSongForm extends LitElement {
  static override properties = {
    show: { attribute: false },
    song: { attribute: false },
    fault: { attribute: false },
  }
  static override styles = [
    controls,
    fieldGrid,
    css`
      :host {
        display: block;
      }
      h2 {
        margin-bottom: 0.6rem;
      }
      h3 {
        margin: 0.9rem 0 0.4rem;
      }
      .row {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
        margin-top: 0.9rem;
      }
      a {
        color: var(--paper);
        text-underline-offset: 0.2em;
      }
      .fault {
        color: var(--grave);
      }
    `,
  ]
  declare show: Show
  declare song: Song
  declare fault: { readonly where: string; readonly message: string } | undefined
  readonly #lock = new LockController(this)

  override render(): TemplateResult {
    const { show, song } = this
    return html`<h2>The song</h2>
      <div class="fields">
        <lan-text-field
          label="Title"
          fault=${this.#faultAt('title')}
          .value=${song.title}
          @lan-commit=${(event: CommitEvent<string>) => this.#set('title', event.value)}
        ></lan-text-field>
        <lan-number-field
          label="Tempo"
          unit="beats a minute"
          fault=${this.#faultAt('tempo')}
          .min=${10}
          .max=${1000}
          .step=${1}
          .value=${song.tempo}
          @lan-commit=${(event: CommitEvent<number>) => this.#tempo(event)}
        ></lan-number-field>
        <lan-number-field
          label="Beats in a bar"
          fault=${this.#faultAt('beats')}
          whole
          .min=${1}
          .max=${64}
          .value=${song.beats}
          @lan-commit=${(event: CommitEvent<number>) => this.#set('beats', event.value)}
        ></lan-number-field>
        <lan-select-field
          label="Tuning"
          fault=${this.#faultAt('tuning')}
          .value=${song.tuning}
          .choices=${show.tunings.map(({ id }) => ({ value: id, text: id }))}
          @lan-commit=${(event: CommitEvent<string>) => this.#set('tuning', event.value)}
        ></lan-select-field>
      </div>
      <h3>Drift</h3>
      <lan-wander-form
        fault=${this.#faultAt('wander')}
        .value=${song.wander}
        @lan-commit=${(event: CommitEvent<Wander | null>) =>
          this.#edit('wander', setSongField(song.id, 'wander', event.value ?? undefined, 'Drift'))}
      ></lan-wander-form>
      <h3>Flash guard in this song</h3>
      <lan-flash-guard-form
        of=${song.title}
        fault=${this.#faultAt('flash')}
        .value=${song.flash}
        .shows=${show.guards.flash}
        @lan-commit=${(event: CommitEvent<FlashGuard | null>) =>
          this.#edit('flash', setSongFlash(song.id, event.value ?? undefined))}
      ></lan-flash-guard-form>
      <h3>Takes</h3>
      <lan-list-field
        unordered
        label="Standard MIDI Files, from the show’s folder"
        hint="Checks count by them."
        fault=${this.#faultAt('takes')}
        .field=${TAKES}
        .value=${song.takes}
        @lan-commit=${(event: CommitEvent<readonly string[]>) => this.#set('takes', event.value)}
      ></lan-list-field>
      <p>
        <a href=${roomHref('songs', song.id)}>Set list, notes, variants, and how it is entered: in Songs</a>
      </p>
      <div class="row">
        <button ?disabled=${this.#lock.isOn} @click=${() => this.#edit('place', duplicateSong(song.id))}>
          Duplicate the song
        </button>
        <button
          ?disabled=${this.#lock.isOn || show.songs.length < 2}
          @click=${() => this.#edit('place', removeSong(song.id))}
        >
          Remove the song
        </button>
      </div>
      ${this.#faultAt('place') ? html`<p class="fault">${this.#faultAt('place')}</p>` : nothing}`
  }

  /** Four decimals, as the file has it. */
  #tempo(event: CommitEvent<number>): void {
    this.#set('tempo', Number(event.value.toFixed(4)))
  }

  #faultAt(where: string): string {
    return this.fault?.where === `song.${where}` ? this.fault.message : ''
  }

  #set(field: keyof Song & string, value: unknown): void {
    this.#edit(field, setSongField(this.song.id, field, value))
  }

  #edit(where: string, make: MakeEdit): void {
    propose(this, `song.${where}`, make)
  }
}

customElements.define('lan-song-form', LanSongForm)

declare global {
  interface HTMLElementTagNameMap {
    'lan-song-form': LanSongForm
  }
}
