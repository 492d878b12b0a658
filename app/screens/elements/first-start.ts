import type { TemplateResult } from 'lit'
import { html, LitElement } from 'lit'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import { controls } from '../style/controls.ts'

export class LanFirstStart extends LitElement {
  static override properties = { view: { attribute: false } }
  static override styles = [controls]
  declare view: HouseView

  constructor() {
    super()
    this.view = NOTHING_YET
  }

  override render(): TemplateResult {
    return html`<h1>first-start</h1>`
  }
}

customElements.define('lan-first-start', LanFirstStart)
