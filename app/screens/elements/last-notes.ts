import type { TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import type { Player } from '../../../src/domain/player.ts'
import type { Lamp } from '../../../src/domain/rig.ts'
import type { LightHistory, LightSpan } from '../controllers/light-history.ts'
import type { BarWindow } from '../steps/bar-window.ts'
import { beatWords } from '../steps/bar-window.ts'
import { controls } from '../style/controls.ts'
import { ownerChip, ownerMark } from '../style/owner-mark.ts'
import { plate } from '../style/plate.ts'
import { percent } from '../wording/figures.ts'
import { noteName } from '../wording/note-name.ts'

/** The last light of each lamp, in words: what the picture of the last bars shows, for those who read it. */
export class LanLastNotes extends LitElement {
  static override properties = {
    lamps: { attribute: false },
    players: { attribute: false },
    history: { attribute: false },
    window: { attribute: false },
  }
  static override styles = [
    controls,
    plate,
    css`
      :host {
        display: block;
        margin-top: 1.2rem;
      }
      table {
        width: 100%;
      }
      tbody th {
        font-family: var(--plate-serif);
        font-style: italic;
        font-weight: 400;
        color: var(--paper);
      }
      caption {
        text-align: left;
        font-family: var(--plate-serif);
        font-style: italic;
        color: var(--paper-soft);
        padding-bottom: 0.4rem;
      }
    `,
  ]
  declare lamps: readonly Lamp[]
  declare players: readonly Player[]
  declare history: LightHistory
  declare window: BarWindow

  override render(): TemplateResult {
    const latest = new Map(this.history.spans.map((span) => [span.lamp, span]))
    return html`<div class="roll" tabindex="0" role="group" aria-label="The last note of each lamp">
      <table>
        <caption>
          The last note of each lamp
        </caption>
        <thead>
          <tr>
            <th scope="col">Lamp</th>
            <th scope="col">Player</th>
            <th scope="col">Part</th>
            <th scope="col">Note</th>
            <th scope="col" class="number">Duty</th>
            <th scope="col">Lit at</th>
            <th scope="col" class="number">For</th>
          </tr>
        </thead>
        <tbody>
          ${this.lamps.map((lamp) => this.#row(lamp, latest.get(lamp.id)))}
        </tbody>
      </table>
    </div>`
  }

  #row({ name }: Lamp, span: LightSpan | undefined): TemplateResult {
    if (!span) {
      return html`<tr>
        <th scope="row">${name}</th>
        <td colspan="6" class="soft">dark so far</td>
      </tr>`
    }
    const player = this.players.find(({ id }) => id === span.player)?.name ?? span.player
    return html`<tr>
      <th scope="row">${name}</th>
      <td>${ownerChip(ownerMark(this.players, span.player), player)}</td>
      <td>${span.part}</td>
      <td>${span.key === undefined ? '' : noteName(span.key)}</td>
      <td class="number">${percent(span.duty)}</td>
      <td class="figures">${beatWords(span.from, this.history, this.window)}</td>
      <td class="number">${this.#length(span)}</td>
    </tr>`
  }

  #length({ from, until }: LightSpan): string {
    if (until === null) return 'still lit'
    const beats = (until - from) / (this.window.barMicros / this.window.beats)
    return `${beats.toFixed(2)} beats`
  }
}

customElements.define('lan-last-notes', LanLastNotes)

declare global {
  interface HTMLElementTagNameMap {
    'lan-last-notes': LanLastNotes
  }
}
