import type { TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { Show } from '../../../src/domain/show.ts'
import { propose } from '../controllers/edit-event.ts'
import type { MakeEdit } from '../sheet/edit.ts'
import { addToSetList, moveInSetList, removeFromSetList } from '../sheet/song-edits.ts'
import { controls } from '../style/controls.ts'
import { orderedList } from '../style/ordered-list.ts'

/** The order of the evening; a song may stand in it more than once. Tells edits (`lan-edit`). */
export class LanSetListForm extends LitElement {
  static override properties = {
    show: { attribute: false },
    fault: { attribute: false },
    toAdd: { state: true },
  }
  static override styles = [
    controls,
    orderedList,
    css`
      :host {
        display: block;
      }
      .fault {
        color: var(--grave);
      }
    `,
  ]
  declare show: Show
  declare fault: { readonly where: string; readonly message: string } | undefined
  declare private toAdd: string

  constructor() {
    super()
    this.toAdd = ''
  }

  override render(): TemplateResult {
    const { setList, songs } = this.show
    const chosen = songs.find(({ id }) => id === this.toAdd) ?? songs[0]
    return html`<h2>Set list</h2>
      <ol>
        ${setList.map((id, place) => this.#entry(id, place))}
      </ol>
      ${
        chosen
          ? html`<div class="adder">
              <select
                aria-label="Song to add to the set list"
                @change=${(event: Event) => {
                  this.toAdd = (event.target as HTMLSelectElement).value
                }}
              >
                ${songs.map(
                  ({ id, title }) =>
                    html`<option value=${id} .selected=${id === chosen.id}>${title}</option>`,
                )}
              </select>
              <button @click=${() => this.#edit(addToSetList(chosen.id))}>Add at the end</button>
            </div>`
          : nothing
      }
      ${this.fault?.where === 'setList' ? html`<p class="fault">${this.fault.message}</p>` : nothing}`
  }

  #entry(id: string, place: number): TemplateResult {
    const { setList, songs } = this.show
    const title = songs.find((song) => song.id === id)?.title ?? id
    const name = `${title}, ${place + 1} of ${setList.length}`
    return html`<li>
      <span class="name">${title}</span>
      <button
        aria-label=${`${name}: earlier`}
        ?disabled=${place === 0}
        @click=${() => this.#edit(moveInSetList(place, -1))}
      >
        ↑
      </button>
      <button
        aria-label=${`${name}: later`}
        ?disabled=${place === setList.length - 1}
        @click=${() => this.#edit(moveInSetList(place, 1))}
      >
        ↓
      </button>
      <button
        aria-label=${`${name}: off the set list`}
        ?disabled=${setList.length === 1}
        @click=${() => this.#edit(removeFromSetList(place))}
      >
        ×
      </button>
    </li>`
  }

  #edit(make: MakeEdit): void {
    propose(this, 'setList', make)
  }
}

customElements.define('lan-set-list-form', LanSetListForm)

declare global {
  interface HTMLElementTagNameMap {
    'lan-set-list-form': LanSetListForm
  }
}
