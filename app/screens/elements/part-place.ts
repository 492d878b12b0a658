import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { Part, Song } from '../../../src/domain/song.ts'
import { propose } from '../controllers/edit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import type { PartPlace } from '../sheet/part-edits.ts'
import { movePart, removePart } from '../sheet/part-edits.ts'
import { controls } from '../style/controls.ts'

/** Where a part stands among those of its song, and its end. Tells edits (`lan-edit`). */
export class LanPartPlace extends LitElement {
  static override properties: PropertyDeclarations = {
    song: { attribute: false },
    chosen: { attribute: false },
    fault: {},
  }
  static override styles = [
    controls,
    css`
      .row {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
      }
      .fault {
        color: var(--grave);
        margin: 0.3rem 0;
      }
    `,
  ]
  declare song: Song
  declare chosen: Part
  declare fault: string
  readonly #lock = new LockController(this)

  constructor() {
    super()
    this.fault = ''
  }

  override render(): TemplateResult {
    const { song, chosen, fault } = this
    const at = song.parts.indexOf(chosen)
    const place: PartPlace = { song: song.id, part: chosen.id }
    const { isOn } = this.#lock
    return html`<div class="row">
        <button
          ?disabled=${isOn || at === 0}
          @click=${() => propose(this, 'part.place', movePart(place, -1))}
        >
          Row up
        </button>
        <button
          ?disabled=${isOn || at === song.parts.length - 1}
          @click=${() => propose(this, 'part.place', movePart(place, 1))}
        >
          Row down
        </button>
        <button ?disabled=${isOn} @click=${() => propose(this, 'part.place', removePart(place))}>
          Remove ${chosen.id}
        </button>
      </div>
      ${fault ? html`<p class="fault">${fault}</p>` : nothing}`
  }
}

customElements.define('lan-part-place', LanPartPlace)
