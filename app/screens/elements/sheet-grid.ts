import type { PropertyValues, TemplateResult } from 'lit'
import { html, LitElement, nothing } from 'lit'
import type { StrategyForm } from '../../../src/contract/from-host.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Part, Song } from '../../../src/domain/song.ts'
import { propose } from '../controllers/edit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import { roomHref } from '../controllers/room-controller.ts'
import { strategyWords } from '../sheet/field-words.ts'
import { fieldsOf } from '../sheet/form-model.ts'
import type { GridPlace } from '../sheet/grid-move.ts'
import { gridMove, orderMove } from '../sheet/grid-move.ts'
import { moveLamp, toggleLamp } from '../sheet/part-edits.ts'
import type { LampUse } from '../sheet/part-words.ts'
import { motionWords } from '../sheet/motion-words.ts'
import { cellWords, claimWords, dutyWords, lampUse, rangeWords } from '../sheet/part-words.ts'
import { controls } from '../style/controls.ts'
import { ownerChip, ownerMark } from '../style/owner-mark.ts'
import { sheetGrid } from '../style/sheet-grid.ts'

/** Parts against lamps: who may light which, and in what order. Tells edits (`lan-edit`, from `grid`). */
export class LanSheetGrid extends LitElement {
  static override properties = {
    show: { attribute: false },
    song: { attribute: false },
    strategies: { attribute: false },
    chosen: {},
    lit: { attribute: false },
    kept: { attribute: false },
    fault: {},
    at: { state: true },
  }
  static override styles = [controls, sheetGrid]
  declare show: Show
  declare song: Song
  declare strategies: readonly StrategyForm[]
  /** Id of the part that is open. */
  declare chosen: string
  /** The part that each lamp is lit by now; empty where another song plays. */
  declare lit: ReadonlyMap<string, string>
  /** The part whose claim has each lamp now, lit or dark. */
  declare kept: ReadonlyMap<string, string>
  declare fault: string
  /** The cell that Tab comes to. */
  declare private at: GridPlace
  readonly #lock = new LockController(this)

  constructor() {
    super()
    this.strategies = []
    this.chosen = ''
    this.lit = new Map()
    this.kept = new Map()
    this.fault = ''
    this.at = { row: 0, column: 0 }
  }

  /** Light comes and goes thirty times a second: only its marks are moved then. */
  override shouldUpdate(changed: PropertyValues<this>): boolean {
    if (!this.hasUpdated || [...changed.keys()].some((name) => name !== 'lit' && name !== 'kept')) return true
    this.#markLit()
    return false
  }

  override willUpdate(): void {
    const { row, column } = this.at
    const kept = {
      row: Math.max(0, Math.min(row, this.song.parts.length - 1)),
      column: Math.min(column, this.show.rig.lamps.length - 1),
    }
    if (kept.row !== row || kept.column !== column) this.at = kept
  }

  override updated(): void {
    this.#markLit()
  }

  #markLit(): void {
    for (const cell of this.renderRoot.querySelectorAll<HTMLElement>('td')) {
      const { lamp, part } = cell.dataset
      cell.classList.toggle('lit', lamp !== undefined && this.lit.get(lamp) === part)
      cell.classList.toggle('kept', lamp !== undefined && this.kept.get(lamp) === part)
    }
  }

  override render(): TemplateResult {
    const { song, show } = this
    return html`<div class="roll">
        <table
          role="grid"
          aria-readonly=${this.#lock.isOn ? 'true' : nothing}
          aria-label=${`Parts of ${song.title} and their lamps`}
          @keydown=${this.#key}
        >
          <thead>
            <tr>
              <th class="corner" scope="col">Part</th>
              ${show.rig.lamps.map(
                ({ name }) => html`<th scope="col" title=${name}><div class="lamp-name">${name}</div></th>`,
              )}
            </tr>
          </thead>
          <tbody>
            ${song.parts.map((part, row) => this.#row(part, row))}
          </tbody>
        </table>
      </div>
      ${this.fault ? html`<p class="fault" role="alert">${this.fault}</p>` : nothing} ${this.#legend()}`
  }

  #row(part: Part, row: number): TemplateResult {
    const { show, song } = this
    const isChosen = part.id === this.chosen
    return html`<tr class=${isChosen ? 'chosen' : ''}>
      ${this.#head(part, row, isChosen)}
      ${show.rig.lamps.map(({ id, name }, column) => {
        const use = lampUse(song, part, id)
        return html`<td data-part=${part.id} data-lamp=${id}>
          <button
            type="button"
            aria-pressed=${use.place >= 0}
            aria-disabled=${this.#lock.isOn ? 'true' : nothing}
            aria-label=${cellWords(name, part, use)}
            tabindex=${this.#isAt(row, column) ? 0 : -1}
            @focus=${() => this.#stand(row, column)}
            @click=${() => this.#toggle(part, id)}
          >
            ${use.place >= 0 ? html`<span class=${`disc ${useClass(use)}`} data-place=${use.place + 1}></span>` : nothing}
          </button>
        </td>`
      })}
    </tr>`
  }

  #head(part: Part, row: number, isChosen: boolean): TemplateResult {
    const { show, song, strategies } = this
    const form = strategies.find(({ kind }) => kind === part.strategy.kind)
    const player = show.players.find(({ id }) => id === part.player)?.name ?? part.player
    const moving = motionWords(part)
    return html`<th scope="row">
      <a
        href=${roomHref('sheet', song.id, part.id)}
        tabindex=${this.#isAt(row, -1) ? 0 : -1}
        aria-current=${isChosen ? 'true' : nothing}
        @focus=${() => this.#stand(row, -1)}
      >
        <span class="part-name"
          ><em>${part.id}</em>${ownerChip(ownerMark(show.players, part.player), player)}</span
        >
        <span class="line">${strategyWords(part.strategy, fieldsOf(form?.options))}</span>
        ${part.claim ? html`<span class="line">${claimWords(part)}</span>` : nothing}
        <span class="line">${rangeWords(part)}; ${dutyWords(part)}</span>
        ${moving.length > 0 ? html`<span class="line">${moving.join('; ')}</span>` : nothing}
      </a>
    </th>`
  }

  #legend(): TemplateResult {
    return html`<ul class="legend" aria-label="Signs">
      <li><span class="disc" data-place="1"></span> first in the part’s order</li>
      <li><span class="disc shared" data-place="1"></span> shared: who is first keeps it</li>
      <li><span class="disc claimed" data-place="1"></span> claimed by this part</li>
      <li><span class="disc taken" data-place="1"></span> another part may take it</li>
      <li><span class="disc lit-mark" data-place="1"></span> lit by this part now</li>
      <li><span class="disc kept-mark" data-place="1"></span> kept by its claim now</li>
    </ul>`
  }

  #isAt(row: number, column: number): boolean {
    return this.at.row === row && this.at.column === column
  }

  #stand(row: number, column: number): void {
    if (!this.#isAt(row, column)) this.at = { row, column }
  }

  #toggle(part: Part, lamp: string): void {
    if (this.#lock.isOn) return
    propose(this, 'grid', toggleLamp({ song: this.song.id, part: part.id }, lamp, this.strategies))
  }

  readonly #key = (event: KeyboardEvent): void => {
    const { song, show, at } = this
    const by = orderMove(event)
    const to = gridMove(event, at, song.parts.length, show.rig.lamps.length)
    if (by === 0 && (to === undefined || event.altKey || event.metaKey)) return
    event.preventDefault()
    if (by !== 0) this.#order(by)
    else if (to) this.#focus(to)
  }

  #order(by: number): void {
    const part = this.song.parts[this.at.row]
    const lamp = this.show.rig.lamps[this.at.column]
    if (this.#lock.isOn || !part || !lamp || !part.lamps.includes(lamp.id)) return
    propose(this, 'grid', moveLamp({ song: this.song.id, part: part.id }, lamp.id, by, this.strategies))
  }

  /** To the head of a part's row. */
  focusPart(id: string): void {
    const row = this.song.parts.findIndex((part) => part.id === id)
    if (row >= 0) this.#focus({ row, column: -1 })
  }

  #focus({ row, column }: GridPlace): void {
    const line = this.renderRoot.querySelectorAll('tbody tr')[row]
    line?.querySelectorAll<HTMLElement>('a, button')[column + 1]?.focus()
  }
}

/** What takes a lamp away counts before what only shares it. */
function useClass({ isClaimed, takenBy, sharedWith }: LampUse): string {
  if (isClaimed) return 'claimed'
  if (takenBy.length > 0) return 'taken'
  return sharedWith.length > 0 ? 'shared' : ''
}

customElements.define('lan-sheet-grid', LanSheetGrid)

declare global {
  interface HTMLElementTagNameMap {
    'lan-sheet-grid': LanSheetGrid
  }
}
