import type { PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { Show } from '../../../src/domain/show.ts'
import type { EqualTuning, TuningSpec } from '../../../src/domain/tuning-spec.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { EditController } from '../controllers/edit-controller.ts'
import { LockController } from '../controllers/gig-lock.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import { roomHref } from '../controllers/room-controller.ts'
import type { MakeEdit } from '../sheet/edit.ts'
import { idFault } from '../sheet/new-id.ts'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'
import type { TuningField } from '../tuning/tuning-edits.ts'
import {
  addTuning,
  removeTuning,
  renameTuning,
  setSongTuning,
  setTuningField,
  whyKept,
} from '../tuning/tuning-edits.ts'
import { keyWords, tuningWords } from '../tuning/tuning-words.ts'
import './number-field.ts'
import './select-field.ts'
import './text-field.ts'

/** The tunings of the show, to be changed, and which song is in which. */
export class LanTuningList extends LitElement {
  static override properties = { view: { attribute: false } }
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
      h3 {
        font-style: italic;
        margin-bottom: 0.25rem;
      }
      .entries {
        display: grid;
        grid-template-columns: repeat(auto-fill, minmax(8.5rem, 1fr));
        gap: 0.75rem;
        align-items: start;
        margin: 0.75rem 0;
      }
      .foot {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem 1rem;
        align-items: center;
        justify-content: space-between;
      }
      .foot p {
        margin: 0;
      }
      lan-select-field,
      lan-text-field,
      lan-number-field {
        display: block;
      }
      .songs-head {
        font-style: normal;
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
  readonly #edits = new EditController(this)
  readonly #lock = new LockController(this)

  constructor() {
    super()
    this.view = NOTHING_YET
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('view')) this.#edits.see(this.view)
  }

  override render(): TemplateResult {
    const show = this.view.show?.show
    if (!show) return html`<p class="margin">No show is loaded.</p>`
    const fault = this.#edits.faultAt('add') ?? this.#edits.faultAt('remove')
    return html`<ul class="tunings">
        ${show.tunings.map((tuning) => this.#tuning(show, tuning))}
      </ul>
      <button type="button" ?disabled=${this.#lock.isOn} @click=${() => this.#edits.edit('add', addTuning())}>
        Add a tuning
      </button>
      ${fault === undefined ? nothing : html`<p class="wrong" role="alert">${fault}</p>`}
      <h3 class="songs-head">Songs and their tunings</h3>
      <ul class="songs">
        ${show.songs.map(
          (song) =>
            html`<li>
              <lan-select-field
                .label=${song.title}
                .value=${song.tuning}
                .choices=${show.tunings.map(({ id }) => ({ value: id, text: id }))}
                .fault=${this.#edits.faultAt(`song ${song.id}`) ?? ''}
                @lan-commit=${(event: CommitEvent<string>) =>
                  this.#commit(event, `song ${song.id}`, (value) => setSongTuning(song.id, value))}
              ></lan-select-field>
            </li>`,
        )}
      </ul>`
  }

  #tuning(show: Show, tuning: TuningSpec): TemplateResult {
    const { id, kind } = tuning
    const kept = whyKept(show, id)
    const others = show.tunings.flatMap((one) => (one === tuning ? [] : [one.id]))
    const users = show.songs.filter((song) => song.tuning === id)
    return html`<li>
      <h3>${id}</h3>
      <p class="margin">${kind}: ${tuningWords(tuning)}</p>
      <div class="entries">
        <lan-text-field
          label="Name"
          longest="64"
          .value=${id}
          .check=${(text: string) => idFault(text, others)}
          .fault=${this.#edits.faultAt(`${id} id`) ?? ''}
          @lan-commit=${(event: CommitEvent<string>) =>
            this.#commit(event, `${id} id`, (name) => renameTuning(id, name))}
        ></lan-text-field>
        ${tuning.kind === 'equal' ? this.#equal(tuning) : nothing}
      </div>
      <div class="foot">
        <p>
          ${
            users.length === 0
              ? 'No song is in this tuning.'
              : html`Songs in it:
                ${users.map(
                  (song, index) =>
                    html`${index > 0 ? ', ' : ''}<a href=${roomHref('sheet', song.id)}
                        ><em>${song.title}</em></a
                      >`,
                )}`
          }
        </p>
        <button
          type="button"
          ?disabled=${this.#lock.isOn || kept !== ''}
          aria-label="Remove tuning ${id}"
          aria-describedby=${kept === '' ? nothing : `kept-${id}`}
          @click=${() => this.#edits.edit('remove', removeTuning(id))}
        >
          Remove
        </button>
        ${kept === '' ? nothing : html`<span class="unseen" id="kept-${id}">cannot be removed: ${kept}</span>`}
      </div>
    </li>`
  }

  #equal(tuning: EqualTuning): TemplateResult {
    return html`${this.#number(tuning, 'steps', 'Equal steps', '', { min: 1, max: 1000, whole: true })}
    ${this.#number(tuning, 'periodCents', 'Period', 'cents', { above: 0, max: 12_000 })}
    ${this.#number(tuning, 'refNote', `Reference key, ${keyWords(tuning.refNote)}`, '', {
      min: 0,
      max: 127,
      whole: true,
    })}
    ${this.#number(tuning, 'refHz', 'Reference pitch', 'Hz', { above: 0, max: 100_000 })}`
  }

  #number(
    tuning: EqualTuning,
    field: TuningField,
    label: string,
    unit: string,
    { min = -Infinity, max, above, whole = false }: NumberBounds,
  ): TemplateResult {
    const where = `${tuning.id} ${field}`
    return html`<lan-number-field
      .label=${label}
      .unit=${unit}
      .value=${tuning[field]}
      .min=${min}
      .max=${max}
      .above=${above}
      .whole=${whole}
      .fault=${this.#edits.faultAt(where) ?? ''}
      @lan-commit=${(event: CommitEvent<number>) =>
        this.#commit(event, where, (value) => setTuningField(tuning.id, field, value))}
    ></lan-number-field>`
  }

  #commit<T>(event: CommitEvent<T>, where: string, make: (value: T) => MakeEdit): void {
    event.stopPropagation()
    this.#edits.edit(where, make(event.value))
  }
}

interface NumberBounds {
  readonly min?: number
  readonly max: number
  readonly above?: number
  readonly whole?: boolean
}

customElements.define('lan-tuning-list', LanTuningList)
