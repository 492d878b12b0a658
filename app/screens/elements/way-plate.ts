import type { TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import type { Show } from '../../../src/domain/show.ts'
import type { Part } from '../../../src/domain/song.ts'
import { controls } from '../style/controls.ts'
import { ownerChip, ownerMark } from '../style/owner-mark.ts'
import { plate } from '../style/plate.ts'
import type { Way } from '../steps/way-words.ts'

/** How one part moves over its lamps: its lamps in the order it comes to them, and the rest in words. */
export class LanWayPlate extends LitElement {
  static override properties = {
    show: { attribute: false },
    chosen: { attribute: false },
    way: { attribute: false },
    href: {},
  }
  static override styles = [
    controls,
    plate,
    css`
      :host {
        display: block;
      }
      .pane {
        height: 100%;
      }
      h3 {
        font-style: italic;
        display: flex;
        justify-content: space-between;
        gap: 1em;
        font-size: 1.25rem;
      }
      h3 span {
        font-family: var(--plate-sans);
        font-style: normal;
        font-size: 1rem;
      }
      ol {
        display: flex;
        flex-wrap: wrap;
        gap: 0.2rem 0.3rem;
        list-style: none;
        margin: 0.7rem 0;
        padding: 0;
        font-family: var(--plate-serif);
        font-style: italic;
      }
      li:not(:last-child)::after {
        content: ' \\2192';
        color: var(--paper-soft);
      }
      p {
        margin: 0.15rem 0;
      }
    `,
  ]
  declare show: Show
  declare chosen: Part
  declare way: Way
  declare href: string

  override render(): TemplateResult {
    const { show, chosen, way } = this
    const player = show.players.find(({ id }) => id === chosen.player)?.name ?? chosen.player
    return html`<article class="pane">
      <h3>${chosen.id} <span>${ownerChip(ownerMark(show.players, chosen.player), player)}</span></h3>
      <p class="soft">${chosen.strategy.kind}</p>
      <ol aria-label=${`Way of ${chosen.id} over its lamps`}>
        ${way.round.map((id) => html`<li>${show.rig.lamps.find((lamp) => lamp.id === id)?.name ?? id}</li>`)}
      </ol>
      ${way.words.map((sentence) => html`<p class="figures">${sentence}</p>`)}
      <p><a href=${this.href}>Change it in the sheet</a></p>
    </article>`
  }
}

customElements.define('lan-way-plate', LanWayPlate)

declare global {
  interface HTMLElementTagNameMap {
    'lan-way-plate': LanWayPlate
  }
}
