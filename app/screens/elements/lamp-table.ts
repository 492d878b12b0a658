import type { TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import type { LampStatus } from '../../../src/contract/from-engine.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import { isPulse } from '../stage/pulse.ts'
import { controls } from '../style/controls.ts'
import { ownerChip, ownerMark } from '../style/owner-mark.ts'
import { cents, hertz, percent, tempo } from '../wording/figures.ts'
import { noteName } from '../wording/note-name.ts'

/** Every lamp and what it does, as a table. */
export class LanLampTable extends LitElement {
  static override properties = {
    show: { attribute: false },
    song: { attribute: false },
    lamps: { attribute: false },
  }
  static override styles = [
    controls,
    css`
      :host {
        display: grid;
        grid-template-rows: minmax(0, 1fr);
      }
      .all {
        overflow: auto;
        outline-offset: -3px;
      }
      table {
        width: 100%;
        font-size: 1.25rem;
        font-variant-numeric: tabular-nums;
      }
      th,
      td {
        padding: 0.35rem 0.75rem;
        text-align: left;
        font-weight: 400;
        border-bottom: 1px solid var(--bar);
      }
      thead th {
        position: sticky;
        top: 0;
        background: var(--ground);
        color: var(--paper-soft);
        font-size: 1rem;
      }
      tbody th {
        font-family: var(--plate-serif);
        font-style: italic;
      }
      .figure {
        text-align: right;
      }
      .note {
        font-size: 1.5rem;
        font-weight: 700;
      }
    `,
  ]
  declare show: Show
  declare song: Song | undefined
  declare lamps: ReadonlyMap<string, LampStatus>

  constructor() {
    super()
    this.song = undefined
    this.lamps = new Map()
  }

  override render(): TemplateResult {
    return html`<div class="all" role="group" aria-label="Lamps" tabindex="0">
      <table>
        <caption class="unseen">
          What each lamp does now
        </caption>
        <thead>
          <tr>
            <th scope="col">Lamp</th>
            <th scope="col">Player</th>
            <th scope="col">Part</th>
            <th scope="col">Note</th>
            <th scope="col" class="figure">Hz</th>
            <th scope="col" class="figure">Error, cents</th>
            <th scope="col" class="figure">Duty</th>
          </tr>
        </thead>
        <tbody>
          ${this.show.rig.lamps.map(({ id, name }) => this.#row(name, this.lamps.get(id)))}
        </tbody>
      </table>
    </div>`
  }

  #row(name: string, status: LampStatus | undefined): TemplateResult {
    if (status && !status.on && status.claimedBy !== undefined) return this.#kept(name, status.claimedBy)
    if (!status?.on) {
      return html`<tr class="soft">
        <th scope="row">${name}</th>
        <td colspan="6">${status ? 'dark' : 'not heard of yet'}</td>
      </tr>`
    }
    const { player, part, key, hz, realHz = hz, cents: error, duty } = status
    const { players } = this.show
    const owner = players.find(({ id }) => id === player)
    const isGlowing = status.glow === true
    const pulses = hz !== undefined && isPulse(this.song, status)
    const isClaimed = part !== undefined && status.claimedBy === part
    return html`<tr>
      <th scope="row">${name}</th>
      <td>${owner ? ownerChip(ownerMark(players, owner.id), owner.name) : ''}</td>
      <td>${part ?? ''}${isClaimed ? ', by its claim' : ''}</td>
      <td class="note">
        ${isGlowing ? 'glows, no note' : pulses ? `pulse, ${tempo(hz * 60)} a minute` : key === undefined ? '' : noteName(key)}
      </td>
      <td class="figure">${pulses ? hertz(hz) : realHz === undefined ? '' : hertz(realHz)}</td>
      <td class="figure">${error === undefined || pulses ? '' : cents(error)}</td>
      <td class="figure">${duty === undefined ? '' : percent(duty)}</td>
    </tr>`
  }

  /** Dark, and no other part may light it. */
  #kept(name: string, part: string): TemplateResult {
    const { players } = this.show
    const player = this.song?.parts.find(({ id }) => id === part)?.player
    const owner = players.find(({ id }) => id === player)
    return html`<tr class="soft">
      <th scope="row">${name}</th>
      <td>${owner ? ownerChip(ownerMark(players, owner.id), owner.name) : ''}</td>
      <td>${part}, kept by its claim</td>
      <td colspan="4">dark</td>
    </tr>`
  }
}

customElements.define('lan-lamp-table', LanLampTable)
