import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { Show } from '../../../src/domain/show.ts'
import type { TuningSpec } from '../../../src/domain/tuning-spec.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { propose } from '../controllers/edit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { roomHref } from '../controllers/room-controller.ts'
import { idFault } from '../sheet/new-id.ts'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'
import { removeTuning, renameTuning, whyKept } from '../tuning/tuning-edits.ts'
import { tuningWords } from '../tuning/tuning-words.ts'
import './scale-save.ts'
import './text-field.ts'
import './tuning-fields.ts'

/** One tuning of the show: what it is, what of it can be set, where it is used, its files, and its end. Tells edits (`lan-edit`). */
export class LanTuningEntry extends LitElement {
  static override properties: PropertyDeclarations = {
    show: { attribute: false },
    tuning: { attribute: false },
    written: { attribute: false },
    fault: { attribute: false },
    isReached: { type: Boolean },
  }
  static override styles = [
    controls,
    plate,
    css`
      :host {
        display: grid;
        gap: 0.75rem;
      }
      h3 {
        font-style: italic;
        overflow-wrap: anywhere;
      }
      p {
        margin: 0;
        overflow-wrap: anywhere;
      }
      lan-text-field {
        max-width: 20rem;
      }
      .foot {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem 1rem;
        align-items: center;
        justify-content: space-between;
      }
    `,
  ]
  declare show: Show
  declare tuning: TuningSpec
  declare written: HouseView['scaleWritten']
  declare fault: { readonly where: string; readonly message: string } | undefined
  declare isReached: boolean
  readonly #lock = new LockController(this)

  constructor() {
    super()
    this.isReached = false
  }

  override render(): TemplateResult {
    const { show, tuning, fault } = this
    const { id } = tuning
    const kept = whyKept(show, id)
    const others = show.tunings.flatMap((one) => (one === tuning ? [] : [one.id]))
    return html`<h3>${id}</h3>
      <p class="margin">${tuning.kind}: ${tuningWords(tuning)}</p>
      <lan-text-field
        label="Name"
        .longest=${64}
        .value=${id}
        .check=${(text: string) => idFault(text, others)}
        fault=${fault?.where === `${id} id` ? fault.message : ''}
        @lan-commit=${(event: CommitEvent<string>) => propose(this, `${id} id`, renameTuning(id, event.value))}
      ></lan-text-field>
      <lan-tuning-fields .show=${show} .tuning=${tuning} .fault=${fault}></lan-tuning-fields>
      ${
        tuning.kind === 'received'
          ? nothing
          : html`<lan-scale-save
              tuning=${id}
              .written=${this.written}
              .isReached=${this.isReached}
            ></lan-scale-save>`
      }
      <div class="foot">
        <p>${this.#users()}</p>
        <button
          type="button"
          ?disabled=${this.#lock.isOn || kept !== ''}
          aria-label="Remove tuning ${id}"
          aria-describedby=${kept === '' ? nothing : 'kept'}
          @click=${() => propose(this, 'remove', removeTuning(id))}
        >
          Remove
        </button>
        ${kept === '' ? nothing : html`<span class="unseen" id="kept">cannot be removed: ${kept}</span>`}
      </div>`
  }

  #users(): TemplateResult | string {
    const { songs } = this.show
    const { id } = this.tuning
    const users = songs.filter((song) => song.tuning === id)
    if (users.length === 0)
      return whyKept(this.show, id)
        ? `No song is in it; ${whyKept(this.show, id)}.`
        : 'No song is in this tuning.'
    return html`Songs in it:
    ${users.map(
      (song, index) =>
        html`${index > 0 ? ', ' : ''}<a href=${roomHref('sheet', song.id)}><em>${song.title}</em></a>`,
    )}`
  }
}

customElements.define('lan-tuning-entry', LanTuningEntry)
