import type { TemplateResult } from 'lit'
import { css, html } from 'lit'
import { MOST_LAMPS } from '../first-start/draft.ts'
import { LAMP_NUMBERS, SUPPLY_NUMBERS } from '../rig/ranges.ts'
import { isOver, loadText } from '../rig/supply-load.ts'
import { controls } from '../style/controls.ts'
import { rigSheet } from '../style/rig-sheet.ts'
import { FirstStartPiece } from './first-start-piece.ts'

/** What the show file takes for usual. */
const USABLE = 0.8

/** The second question: how many lamps, and what feeds them. */
export class LanFirstStartLamps extends FirstStartPiece {
  static override styles = [
    controls,
    rigSheet,
    css`
      .grid {
        max-width: 34rem;
        margin-bottom: 1.2rem;
      }
    `,
  ]

  override render(): TemplateResult {
    const { lamps, watts, volts, maxAmps } = this.draft
    const supply = { id: '', volts, maxAmps, usable: USABLE }
    const load = { lamps, amps: (lamps * watts) / volts, limit: maxAmps * USABLE }
    return html`<div class="grid">
        ${this.number('lamps', { label: 'Lamps, 1 to 64', min: 1, max: MOST_LAMPS, whole: true })}
        ${this.number('watts', { ...LAMP_NUMBERS.watts, label: 'Watts of each' })}
        ${this.number('volts', { ...SUPPLY_NUMBERS.volts, label: 'Volts of their supply' })}
        ${this.number('maxAmps', SUPPLY_NUMBERS.maxAmps)}
      </div>
      <p class="figures ${isOver(load) ? 'over' : ''}" role="status">${loadText(load, supply, 'refuse')}</p>
      <p class="note">
        Read these off the supply and the lamps. Lanthorn adds up watts over volts and uses ${USABLE} of what
        the supply can give; wiring, fuses and heat are for your local codes and whoever is licensed for it.
        All of it can be changed in the Rig later, for each lamp by itself.
      </p>`
  }
}

customElements.define('lan-first-start-lamps', LanFirstStartLamps)
