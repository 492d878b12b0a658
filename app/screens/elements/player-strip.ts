import type { TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { Player } from '../../../src/domain/player.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import { controls } from '../style/controls.ts'
import { ownerChip, ownerMark } from '../style/owner-mark.ts'
import { ago, cents } from '../wording/figures.ts'
import { heldBackWords } from '../wording/held-back.ts'
import { noteName } from '../wording/note-name.ts'
import { isPortFine, portState } from '../wording/port-words.ts'

/** What every player is doing: keys that sound, bend, when it was last heard, and its port where that is not as it should be. */
export class LanPlayerStrip extends LitElement {
  static override properties = { view: { attribute: false } }
  static override styles = [
    controls,
    css`
      ul {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(13rem, 1fr));
        margin: 0;
        padding: 0;
        list-style: none;
        border-top: 1px solid var(--bar-strong);
      }
      li {
        min-width: 0;
        height: 5.85rem;
        padding: 0.15rem 1.25rem;
        overflow: hidden;
        contain: strict;
        border-right: 1px solid var(--bar);
        border-bottom: 1px solid var(--bar);
        font-variant-numeric: tabular-nums;
      }
      p {
        margin: 0;
        overflow: hidden;
        text-overflow: ellipsis;
        white-space: nowrap;
      }
      .who {
        display: flex;
        align-items: center;
        height: 1.65rem;
        font-size: 1.25rem;
      }
      .who b {
        color: var(--warn);
        margin-left: 0.6em;
      }
      .dropped {
        margin-left: auto;
        font-size: 1.0625rem;
        color: var(--paper-soft);
      }
      .keys {
        height: 2.5rem;
        font-size: 1.875rem;
        font-weight: 700;
        line-height: 2.5rem;
      }
      .middle {
        display: flex;
        justify-content: space-between;
        gap: 0.75rem;
      }
      .held {
        flex: none;
        max-width: 9.25rem;
        white-space: normal;
        font-size: 1rem;
        line-height: 1.25rem;
        text-align: right;
        color: var(--paper-soft);
      }
      .pedalled {
        font-weight: 400;
        text-decoration: underline dotted;
      }
      .rest {
        font-size: 1.0625rem;
        line-height: 1.3;
        color: var(--paper-soft);
      }
    `,
  ]
  declare view: HouseView

  constructor() {
    super()
    this.view = NOTHING_YET
  }

  override render(): TemplateResult {
    const players = this.view.show?.show.players ?? []
    return html`<ul>
      ${players.map((player) => this.#player(player, players))}
    </ul>`
  }

  #player(player: Player, players: readonly Player[]): TemplateResult {
    const { view } = this
    const activity = view.players.get(player.id)
    const port = view.ports.get(player.id)
    const keys = activity?.keys ?? []
    return html`<li>
      <p class="who">
        ${ownerChip(ownerMark(players, player.id), player.name)}${
          port && !isPortFine(port) ? html`<b>${portState(port.state)}</b>` : nothing
        }<span class="dropped">${activity && activity.dropped > 0 ? `${activity.dropped} dropped` : ''}</span>
      </p>
      <div class="middle">
        <p class="keys">
          ${keys.map(
            ({ key, pedalled }) =>
              html`<span class=${pedalled ? 'pedalled' : nothing}
                  >${noteName(key)}${pedalled ? html`<span class="unseen">, held by the pedal</span>` : nothing}</span
                >${' '}`,
          )}
        </p>
        ${activity?.heldBack ? html`<p class="held">${heldBackWords(activity.heldBack)}</p>` : nothing}
      </div>
      <p class="rest">
        ${activity ? this.#rest(activity) : port ? 'not heard yet' : 'its port was not heard of yet'}
      </p>
    </li>`
  }

  #rest({ bendCents, heardAt }: NonNullable<ReturnType<HouseView['players']['get']>>): string {
    const { playersAt, figures } = this.view
    const now = Math.max(playersAt, figures?.at ?? 0)
    return [
      heardAt === null ? 'not heard yet' : `heard ${ago(now - heardAt)}`,
      ...(bendCents === 0 ? [] : [`bend ${cents(bendCents)} ct`]),
    ].join(', ')
  }
}

customElements.define('lan-player-strip', LanPlayerStrip)
