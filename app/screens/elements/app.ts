import type { TemplateResult } from 'lit'
import { html, LitElement } from 'lit'
import type { AskEvent } from '../controllers/ask-event.ts'
import { HouseController } from '../controllers/house-controller.ts'
import { RoomController } from '../controllers/room-controller.ts'
import { controls } from '../style/controls.ts'
import './checks-room.ts'
import './first-start.ts'
import './monitor-room.ts'
import './rig-room.ts'
import './sheet-room.ts'
import './stage-room.ts'
import './steps-room.ts'
import './tuning-room.ts'

/** The whole page: rooms, the way between them, and the Dark key. */
export class LanApp extends LitElement {
  static override styles = [controls]
  readonly #house = new HouseController(this)
  readonly #room = new RoomController(this)

  override render(): TemplateResult {
    return html`<main @lan-ask=${(event: AskEvent) => this.#house.ask(event.ask)}>${this.#content()}</main>`
  }

  #content(): TemplateResult {
    const { view } = this.#house
    switch (this.#room.room) {
      case 'stage':
        return html`<lan-stage-room .view=${view}></lan-stage-room>`
      case 'sheet':
        return html`<lan-sheet-room .view=${view}></lan-sheet-room>`
      case 'steps':
        return html`<lan-steps-room .view=${view}></lan-steps-room>`
      case 'tuning':
        return html`<lan-tuning-room .view=${view}></lan-tuning-room>`
      case 'rig':
        return html`<lan-rig-room .view=${view}></lan-rig-room>`
      case 'checks':
        return html`<lan-checks-room .view=${view}></lan-checks-room>`
      case 'monitor':
        return html`<lan-monitor-room .view=${view}></lan-monitor-room>`
      case 'start':
        return html`<lan-first-start .view=${view}></lan-first-start>`
    }
  }
}

customElements.define('lan-app', LanApp)
