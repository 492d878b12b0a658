import type { PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { EditController } from '../controllers/edit-controller.ts'
import type { EditEvent } from '../controllers/edit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'
import { addEqual, addReceived, setSongTuning } from '../tuning/tuning-edits.ts'
import type { LanScaleFile } from './scale-file.ts'
import './scale-file.ts'
import './scale-shelf.ts'
import './scale-typing.ts'
import './select-field.ts'
import './tuning-entry.ts'

/** Ways to add a tuning that want more than a press. */
type Way = 'typed' | 'file' | 'house'

const WAYS: readonly { readonly way: Way; readonly text: string }[] = [
  { way: 'typed', text: 'A scale, typed' },
  { way: 'file', text: 'A scale file' },
  { way: 'house', text: 'A scale of the house' },
]

/** The tunings of the show, to be changed and added to, and which song is in which. */
export class LanTuningList extends LitElement {
  static override properties = { view: { attribute: false }, way: { state: true } }
  static override styles = [
    controls,
    plate,
    css`
      ul.tunings {
        list-style: none;
        margin: 0 0 1rem;
        padding: 0;
        display: grid;
        gap: 1rem;
      }
      .tunings > li {
        border: 1px solid var(--bar);
        padding: 1rem;
      }
      .ways {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
      }
      .ways [aria-expanded='true'] {
        border-color: var(--light);
      }
      .way {
        margin-top: 1rem;
        padding-left: 1rem;
        border-left: 3px solid var(--bar-strong);
      }
      lan-select-field {
        display: block;
      }
      h3 {
        margin: 1.5rem 0 0.6rem;
      }
      .songs {
        list-style: none;
        margin: 0;
        padding: 0;
        display: grid;
        grid-template-columns: repeat(auto-fill, minmax(14rem, 1fr));
        gap: 0.75rem;
      }
      .wrong {
        color: var(--grave);
      }
    `,
  ]
  declare view: HouseView
  /** How a tuning is being added. */
  declare private way: Way | undefined
  readonly #edits = new EditController(this)
  readonly #lock = new LockController(this)
  /** Ids before something was added; undefined: nothing was. */
  #before: readonly string[] | undefined
  /** What was added, to be looked at once it is drawn. */
  #added: string | undefined

  constructor() {
    super()
    this.view = NOTHING_YET
  }

  /** Files of a scale that were dropped on the room. */
  async take(files: readonly File[]): Promise<void> {
    this.way = 'file'
    await this.updateComplete
    const form = this.renderRoot.querySelector<LanScaleFile>('lan-scale-file')
    form?.scrollIntoView({ block: 'center' })
    await form?.take(files)
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (!changed.has('view')) return
    this.#edits.see(this.view)
    if (this.#edits.fault) this.#before = undefined
    const added = this.view.show?.show.tunings.find(({ id }) => this.#before?.includes(id) === false)
    if (!added) return
    this.#before = undefined
    this.#added = added.id
    this.way = undefined
  }

  /** Whoever added a tuning is led to it. */
  override updated(): void {
    const added = this.#added
    if (added === undefined) return
    this.#added = undefined
    const places = this.renderRoot.querySelectorAll<HTMLElement>('.tunings > li')
    const place = [...places].find((one) => one.dataset['tuning'] === added)
    place?.focus()
    place?.scrollIntoView({ block: 'nearest' })
  }

  override render(): TemplateResult {
    const { view } = this
    const show = view.show?.show
    if (!show) return html`<p class="margin">No show is loaded.</p>`
    const { fault } = this.#edits
    const isReached = view.link === 'open'
    return html`<div @lan-edit=${(event: EditEvent) => this.#edit(event)}>
      <ul class="tunings">
        ${show.tunings.map(
          (tuning) =>
            html`<li data-tuning=${tuning.id} tabindex="-1">
              <lan-tuning-entry
                .show=${show}
                .tuning=${tuning}
                .written=${view.scaleWritten}
                .isReached=${isReached}
                .fault=${fault}
              ></lan-tuning-entry>
            </li>`,
        )}
      </ul>
      <h3 id="add">Add a tuning</h3>
      <div class="ways" role="group" aria-labelledby="add">
        <button type="button" ?disabled=${this.#lock.isOn} @click=${() => this.#make('add', addEqual())}>
          Equal steps
        </button>
        ${WAYS.map(
          ({ way, text }) =>
            html`<button
              type="button"
              ?disabled=${this.#lock.isOn}
              aria-expanded=${this.way === way}
              @click=${() => (this.way = this.way === way ? undefined : way)}
            >
              ${text}
            </button>`,
        )}
        <button
          type="button"
          ?disabled=${this.#lock.isOn || show.tunings.every(({ kind }) => kind === 'received')}
          @click=${() => this.#make('add', addReceived())}
        >
          As a player sends it
        </button>
      </div>
      ${this.way === undefined ? nothing : html`<div class="way">${this.#form(this.way, isReached)}</div>`}
      ${
        fault?.where === 'add' || fault?.where === 'remove'
          ? html`<p class="wrong" role="alert">${fault.message}</p>`
          : nothing
      }
      <h3>Songs and their tunings</h3>
      <ul class="songs">
        ${show.songs.map(
          (song) =>
            html`<li>
              <lan-select-field
                .label=${song.title}
                .value=${song.tuning}
                .choices=${show.tunings.map(({ id }) => ({ value: id, text: id }))}
                .fault=${this.#edits.faultAt(`song ${song.id}`) ?? ''}
                @lan-commit=${(event: CommitEvent<string>) => {
                  event.stopPropagation()
                  this.#make(`song ${song.id}`, setSongTuning(song.id, event.value))
                }}
              ></lan-select-field>
            </li>`,
        )}
      </ul>
    </div>`
  }

  #form(way: Way, isReached: boolean): TemplateResult {
    switch (way) {
      case 'typed':
        return html`<lan-scale-typing></lan-scale-typing>`
      case 'file':
        return html`<lan-scale-file .read=${this.view.scaleRead} .isReached=${isReached}></lan-scale-file>`
      case 'house':
        return html`<lan-scale-shelf .scales=${this.view.scales} .isReached=${isReached}></lan-scale-shelf>`
    }
  }

  #edit(event: EditEvent): void {
    event.stopPropagation()
    this.#make(event.where, event.make)
  }

  #make(where: string, make: EditEvent['make']): void {
    if (where === 'add') this.#before = this.view.show?.show.tunings.map(({ id }) => id)
    this.#edits.edit(where, make)
  }
}

customElements.define('lan-tuning-list', LanTuningList)
