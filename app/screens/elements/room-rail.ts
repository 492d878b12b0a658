import type { TemplateResult } from 'lit'
import { html, LitElement, nothing } from 'lit'
import { ask } from '../controllers/ask-event.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import type { Pane } from '../controllers/pane-event.ts'
import { openPane } from '../controllers/pane-event.ts'
import type { Room } from '../controllers/room-controller.ts'
import { roomHref, ROOMS } from '../controllers/room-controller.ts'
import { controls } from '../style/controls.ts'
import { rail } from '../style/rail.ts'
import './lock-key.ts'

const NAMES: Readonly<Record<(typeof ROOMS)[number], string>> = {
  stage: 'Stage',
  songs: 'Songs',
  sheet: 'Sheet',
  steps: 'Steps',
  tuning: 'Tuning',
  rig: 'Rig',
  checks: 'Checks',
  monitor: 'Monitor',
}

/** The rail beside the rooms: which show this is, the way to each room, and what bears on the whole show. */
export class LanRoomRail extends LitElement {
  static override properties = {
    view: { attribute: false },
    room: {},
    pane: {},
  }
  static override styles = [controls, rail]
  declare view: HouseView
  declare room: Room
  declare pane: Pane | undefined

  constructor() {
    super()
    this.view = NOTHING_YET
    this.room = 'stage'
    this.pane = undefined
  }

  override render(): TemplateResult {
    return html`${this.#label()}
      <nav aria-label="Rooms">
        <ul>
          ${ROOMS.map(
            (room, place) =>
              html`<li>
                <a
                  href=${roomHref(room)}
                  aria-current=${this.room === room ? 'page' : nothing}
                  aria-keyshortcuts="Alt+${place + 1}"
                  ><span class="figures" aria-hidden="true">${place + 1}</span>${NAMES[room]}</a
                >
              </li>`,
          )}
        </ul>
      </nav>
      <div class="tools">${this.#undo()}${this.#lock()}${this.#rig()}${this.#panes()}</div>`
  }

  #label(): TemplateResult {
    const { show } = this.view
    return html`<div class="show label">
      <p class="title">${show?.show.title ?? 'No show yet'}</p>
      ${show ? html`<p class=${show.isSaved ? 'saved' : 'saved unsaved'}>${savedWords(show)}</p>` : nothing}
    </div>`
  }

  #undo(): TemplateResult {
    const { show } = this.view
    const step = (way: 'undo' | 'redo', word: string): TemplateResult => {
      const what = show?.[way] ?? null
      return html`<button
        class="step"
        ?disabled=${what === null || show?.isLocked === true}
        title=${what ?? nothing}
        @click=${() => ask(this, { type: way })}
      >
        <span>${word}</span> <small>${what ?? 'nothing'}</small>
      </button>`
    }
    return html`<div class="steps">${step('undo', 'Undo')}${step('redo', 'Redo')}</div>`
  }

  #lock(): TemplateResult | typeof nothing {
    const { show, welcome } = this.view
    if (!show) return nothing
    return html`<lan-lock-key
      .isLocked=${show.isLocked}
      .isRemote=${welcome?.place === 'remote'}
    ></lan-lock-key>`
  }

  #rig(): TemplateResult | typeof nothing {
    const { show, welcome } = this.view
    if (!show) return nothing
    const isReal = show.rig === 'real'
    const change = (): void => {
      if (!isReal && welcome?.areCautionsRead === false) openPane(this, 'cautions')
      else ask(this, { type: 'rig', rig: isReal ? 'virtual' : 'real' })
    }
    return html`<div class="rig">
      <p>${isReal ? 'Real lamps' : 'Lamps in memory'}</p>
      <button ?disabled=${show.isLocked} @click=${change}>
        ${isReal ? 'Use lamps in memory' : 'Use real lamps'}
      </button>
    </div>`
  }

  #panes(): TemplateResult {
    const { remote, recoveries } = this.view
    return html`${this.#opener('file', 'Show file')}
    ${recoveries.length > 0 ? this.#opener('recoveries', `Unsaved work: ${recoveries.length}`) : nothing}
    ${remote ? this.#opener('screens', remote.screens > 0 ? `Second screen: ${remote.screens}` : 'Second screen') : nothing}`
  }

  #opener(pane: Pane, word: string): TemplateResult {
    return html`<button aria-expanded=${this.pane === pane} @click=${() => openPane(this, pane)}>
      ${word}
    </button>`
  }
}

function savedWords(show: NonNullable<HouseView['show']>): string {
  if (!show.isSaved) return 'Changes not saved'
  if (show.file !== null) return 'Saved'
  return show.isDemo ? 'The demo' : 'Has no file yet'
}

customElements.define('lan-room-rail', LanRoomRail)
