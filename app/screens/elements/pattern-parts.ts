import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, nothing } from 'lit'
import type { Pattern } from '../../../src/domain/pattern.ts'
import type { Part, Song } from '../../../src/domain/song.ts'
import { propose } from '../controllers/edit-event.ts'
import { roomHref } from '../controllers/room-controller.ts'
import { givePattern } from '../steps/pattern-edits.ts'
import { partsOf, STEPS } from '../steps/pattern-parts.ts'
import { controls } from '../style/controls.ts'
import { ownerChip, ownerMark } from '../style/owner-mark.ts'
import { stepFields } from '../style/step-fields.ts'
import { RigPiece } from './rig-piece.ts'

/** Which parts of the song play the pattern, and which could. Edits come from `parts`. */
export class LanPatternParts extends RigPiece {
  static override properties: PropertyDeclarations = {
    ...RigPiece.properties,
    song: { attribute: false },
    pattern: { attribute: false },
  }
  static override styles = [
    controls,
    stepFields,
    css`
      ul {
        display: grid;
        gap: 0.4rem;
        margin: 0;
        padding: 0;
        list-style: none;
      }
      li {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.3rem 0.9rem;
        min-height: var(--touch);
        border-bottom: 1px solid var(--bar);
      }
      li em {
        font: italic 1.125rem var(--plate-serif);
      }
      li button {
        margin-left: auto;
      }
      a {
        color: var(--paper);
        text-underline-offset: 0.2em;
        padding: 0.3rem 0;
      }
    `,
  ]
  declare song: Song
  declare pattern: Pattern

  override render(): TemplateResult {
    const { song, pattern } = this
    const { beginning, coming } = partsOf(song, pattern)
    return html`<h2>Who plays it</h2>
      ${
        beginning.length + coming.length === 0
          ? html`<p class="soft">Nobody yet. A part that gets it, gets the lamps of its rows besides.</p>`
          : nothing
      }
      <ul>
        ${song.parts.map((part) => this.#part(part, beginning.includes(part), coming.includes(part)))}
      </ul>
      ${song.parts.length === 0 ? html`<p>The song has no part yet; <a href=${roomHref('sheet', song.id)}>add one in the sheet</a>.</p>` : nothing}
      ${this.listFault('parts')}`
  }

  #part(part: Part, isFirst: boolean, comes: boolean): TemplateResult {
    const { song, pattern, show } = this
    const name = show.players.find(({ id }) => id === part.player)?.name ?? part.player
    const words = isFirst ? 'begins with it' : comes ? 'comes to it by a pad' : part.strategy.kind
    return html`<li>
      <a href=${roomHref('sheet', song.id, part.id)}><em>${part.id}</em></a>
      ${ownerChip(ownerMark(show.players, part.player), name)}
      <span class=${isFirst || comes ? '' : 'soft'}>${words}</span>
      ${
        isFirst
          ? nothing
          : html`<button
              ?disabled=${this.isLocked}
              @click=${() =>
                propose(this, 'parts', givePattern({ song: song.id, pattern: pattern.id }, part.id, STEPS))}
            >
              Let ${part.id} begin with it
            </button>`
      }
    </li>`
  }
}

customElements.define('lan-pattern-parts', LanPatternParts)

declare global {
  interface HTMLElementTagNameMap {
    'lan-pattern-parts': LanPatternParts
  }
}
