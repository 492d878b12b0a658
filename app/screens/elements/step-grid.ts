import type { PropertyValues, TemplateResult } from 'lit'
import { html, LitElement, nothing } from 'lit'
import type { PartSteps } from '../../../src/contract/from-engine.ts'
import type { Pattern, PatternRow, PatternStep, StruckStep } from '../../../src/domain/pattern.ts'
import type { Show } from '../../../src/domain/show.ts'
import { propose } from '../controllers/edit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import { StepChoiceEvent } from '../controllers/step-choice-event.ts'
import { PaintController } from '../controllers/paint-controller.ts'
import type { GridPlace } from '../sheet/grid-move.ts'
import { stepMove } from '../steps/cell-at.ts'
import type { RowPlace } from '../steps/pattern-place.ts'
import { rowName } from '../steps/pattern-place.ts'
import { lengthen, MOST_STEPS, toggleMuted } from '../steps/row-edits.ts'
import { changeStep, paintSteps } from '../steps/step-edits.ts'
import { stepKey } from '../steps/step-keys.ts'
import { positionWords, stepWords } from '../steps/step-words.ts'
import { controls } from '../style/controls.ts'
import { stepGrid } from '../style/step-grid.ts'
import { percent } from '../wording/figures.ts'
import { noteName } from '../wording/note-name.ts'

const FIRST: StruckStep = { note: 60 }

/** A pattern as rows of steps, worked by mouse, touch and keys (WAI-ARIA Authoring Practices, grid). Tells edits (`lan-edit`, from `steps`) and which step is chosen. */
export class LanStepGrid extends LitElement {
  static override properties = {
    show: { attribute: false },
    songId: {},
    pattern: { attribute: false },
    position: { attribute: false },
    only: { type: Boolean },
    fault: {},
    at: { state: true },
  }
  static override styles = [controls, stepGrid]
  declare show: Show
  declare songId: string
  declare pattern: Pattern
  /** Where its rows stand; undefined: it is not played now. */
  declare position: PartSteps | undefined
  /** A tap or a click only chooses. */
  declare only: boolean
  declare fault: string
  /** The cell that Tab comes to. */
  declare private at: GridPlace
  readonly #lock = new LockController(this)
  readonly #paint = new PaintController(this, {
    begin: (row, index) => this.#brush(row, index),
    painted: (row, indexes, step) => this.#painted(row, indexes, step),
  })
  #last: StruckStep = FIRST
  /** What a step was before it became a rest here: comes back with the next tap. */
  readonly #before = new Map<string, StruckStep>()

  constructor() {
    super()
    this.only = false
    this.fault = ''
    this.at = { row: 0, column: 0 }
  }

  /** Steps go on many times a second: only the marks are moved then. */
  override shouldUpdate(changed: PropertyValues<this>): boolean {
    if (!this.hasUpdated || [...changed.keys()].some((name) => name !== 'position')) return true
    this.#mark()
    return false
  }

  override willUpdate(changed: PropertyValues<this>): void {
    const { row, column } = this.at
    const { rows } = this.pattern
    const before = changed.get('pattern')
    if (before && before.id !== this.pattern.id) this.#before.clear()
    const kept = Math.max(0, Math.min(row, rows.length - 1))
    const most = (rows[kept]?.steps.length ?? 1) + 1
    if (kept !== row || column > most) this.at = { row: kept, column: Math.min(column, most) }
  }

  override updated(): void {
    this.#mark()
  }

  override render(): TemplateResult {
    const { rows, name } = this.pattern
    const longest = Math.max(0, ...rows.map(({ steps }) => steps.length))
    return html`<div class="roll">
        <table
          role="grid"
          aria-label=${`Steps of ${name}`}
          aria-readonly=${this.#lock.isOn ? 'true' : nothing}
          @keydown=${this.#key}
        >
          <thead>
            <tr>
              <th class="corner" scope="col">Row</th>
              ${Array.from({ length: longest }, (_, index) => html`<th scope="col">${index + 1}</th>`)}
              <th scope="col"><span class="unseen">Shorter</span></th>
              <th scope="col"><span class="unseen">Longer</span></th>
            </tr>
          </thead>
          <tbody>
            ${rows.map((row, place) => this.#row(row, place, longest))}
          </tbody>
        </table>
      </div>
      ${this.fault ? html`<p class="fault" role="alert">${this.fault}</p>` : nothing} ${this.#legend()}`
  }

  #row(row: PatternRow, place: number, longest: number): TemplateResult {
    const name = rowName(this.show, row)
    const { length } = row.steps
    const end = (column: number, by: 1 | -1, sign: string, words: string, isShut: boolean): TemplateResult =>
      html`<td class="end">
        <button
          type="button"
          aria-label=${`Make ${name} one step ${words}`}
          aria-disabled=${isShut || this.#lock.isOn ? 'true' : nothing}
          tabindex=${this.#isAt(place, column) ? 0 : -1}
          @focus=${() => this.#stand(place, column)}
          @click=${() => this.#lengthen(row, by)}
        >
          ${sign}
        </button>
      </td>`
    return html`<tr data-row=${row.id}>
      ${this.#head(row, name, place)}
      ${row.steps.map((step, index) => this.#step(row, name, step, place, index))}
      ${end(length, -1, '−', 'shorter', length <= 1)}
      ${end(length + 1, 1, '+', 'longer', length >= MOST_STEPS)}
      ${length < longest ? html`<td class="empty" colspan=${longest - length}></td>` : nothing}
    </tr>`
  }

  #head(row: PatternRow, name: string, place: number): TemplateResult {
    return html`<th scope="row">
      <div class="head">
        <em>${name}</em>
        <span class="where"><b></b><span class="of"></span></span>
        <button
          type="button"
          aria-pressed=${row.muted}
          aria-label=${`Mute ${name}`}
          aria-disabled=${this.#lock.isOn ? 'true' : nothing}
          tabindex=${this.#isAt(place, -1) ? 0 : -1}
          @focus=${() => this.#stand(place, -1)}
          @click=${() => this.#mute(row)}
        >
          ${row.muted ? 'Muted' : 'Mute'}
        </button>
      </div>
    </th>`
  }

  #step(row: PatternRow, name: string, step: PatternStep, place: number, index: number): TemplateResult {
    return html`<td class=${index % 4 === 0 ? 'fourth' : ''} data-index=${index}>
      <button
        type="button"
        aria-pressed=${step !== 0}
        aria-label=${`${name}, step ${index + 1}: ${stepWords(step)}`}
        aria-disabled=${this.#lock.isOn ? 'true' : nothing}
        tabindex=${this.#isAt(place, index) ? 0 : -1}
        @focus=${() => this.#stand(place, index)}
        @click=${(event: MouseEvent) => this.#click(event, row, index)}
      >
        ${step === 0 ? html`<span class="rest"></span>` : this.#note(step)}
      </button>
    </td>`
  }

  #note(step: StruckStep): TemplateResult {
    const { note, accent, chance = 1 } = step
    const gate = step.gate ?? this.pattern.gate
    const name = noteName(note)
    const classes = [
      'note',
      accent === true ? 'accent' : '',
      chance < 1 ? 'maybe' : '',
      name.length > 2 ? 'long' : '',
    ]
    // The stem is as wide as the step where it sounds that long; longer ones run out of it.
    const width = Math.max(6, Math.round(40 * Math.min(gate, 1.3)))
    return html`<span class=${classes.join(' ')}>${name}</span>
      <span class="stem" style="width:${width}px"></span>
      ${chance < 1 ? html`<span class="chance">${percent(Math.round(chance * 100) / 100)}</span>` : nothing}`
  }

  #legend(): TemplateResult {
    return html`<ul class="legend" aria-label="Signs">
      <li><span class="sign now"></span> the row stands here</li>
      <li><span class="sign accent"></span> accent</li>
      <li><span class="sign maybe"></span> by chance</li>
      <li><span class="sign gate"></span> how long it sounds</li>
      <li><span class="sign muted"></span> muted</li>
    </ul>`
  }

  /** What is said thirty times a second is put where it belongs, and nothing is drawn anew. */
  #mark(): void {
    const { position, pattern } = this
    for (const [place, line] of [...this.renderRoot.querySelectorAll<HTMLElement>('tbody tr')].entries()) {
      const row = pattern.rows[place]
      if (!row) continue
      const at = position?.rows[place]
      const isMuted = position?.muted[place] ?? row.muted
      line.classList.toggle('muted', isMuted)
      for (const cell of line.querySelectorAll<HTMLElement>('td[data-index]')) {
        const index = Number(cell.dataset['index'])
        cell.classList.toggle('now', index === at)
        cell.classList.toggle('chosen', this.#isAt(place, index))
        cell.classList.toggle('painted', this.#paint.isOver(row.id, index))
      }
      const [step, of] = [line.querySelector('.where b'), line.querySelector('.of')]
      const words = positionWords(at, row.steps.length).split(' of ')
      if (step) step.textContent = words[0] ?? ''
      if (of) of.textContent = ` of ${words[1] ?? ''}${isMuted ? ', muted' : ''}`
    }
  }

  #isAt(row: number, column: number): boolean {
    return this.at.row === row && this.at.column === column
  }

  #stand(row: number, column: number): void {
    if (this.#isAt(row, column)) return
    this.at = { row, column }
    const one = this.pattern.rows[row]
    if (!one) return
    const step = one.steps[column]
    if (step) this.#last = step
    this.dispatchEvent(new StepChoiceEvent(one.id, Math.max(0, Math.min(column, one.steps.length - 1))))
  }

  #place(row: string): RowPlace {
    return { song: this.songId, pattern: this.pattern.id, row }
  }

  /** What a hand that comes down there makes of steps; undefined: nothing. */
  #brush(row: string, index: number): PatternStep | undefined {
    if (this.#lock.isOn || this.only) return undefined
    const step = this.pattern.rows.find(({ id }) => id === row)?.steps[index]
    if (step === undefined) return undefined
    return step === 0 ? this.#last : 0
  }

  #painted(row: string, indexes: readonly number[], step: PatternStep): void {
    propose(this, 'steps', paintSteps(this.#place(row), indexes, step))
  }

  #click(event: MouseEvent, row: PatternRow, index: number): void {
    // A browser may leave the focus where it was (Safari does, with buttons).
    ;(event.currentTarget as HTMLElement).focus()
    if (this.#lock.isOn || this.#paint.hasPainted(event)) return
    // By keys it is meant to change what it is on.
    if (this.only && event.detail > 0) return
    this.#change(row.id, index, (step) =>
      step === 0 ? (this.#before.get(`${row.id} ${index}`) ?? this.#last) : 0,
    )
  }

  #change(row: string, index: number, change: (step: PatternStep) => PatternStep): void {
    const remembered = (step: PatternStep): PatternStep => {
      const next = change(step)
      if (step !== 0) this.#before.set(`${row} ${index}`, step)
      if (next !== 0) this.#last = next
      return next
    }
    propose(this, 'steps', changeStep(this.#place(row), index, remembered))
  }

  #mute(row: PatternRow): void {
    if (!this.#lock.isOn) propose(this, 'steps', toggleMuted(this.#place(row.id)))
  }

  #lengthen(row: PatternRow, by: 1 | -1): void {
    if (!this.#lock.isOn) propose(this, 'steps', lengthen(this.#place(row.id), by))
  }

  readonly #key = (event: KeyboardEvent): void => {
    const to = event.altKey || event.metaKey ? undefined : stepMove(event, this.at, this.pattern)
    if (to) {
      event.preventDefault()
      this.#focus(to)
      return
    }
    const row = this.pattern.rows[this.at.row]
    const change = stepKey(event, () => this.#last)
    if (!row || !change || !(this.at.column in row.steps)) return
    event.preventDefault()
    if (!this.#lock.isOn) this.#change(row.id, this.at.column, change)
  }

  /** To a step, so that keys go there. */
  #focus({ row, column }: GridPlace): void {
    const line = this.renderRoot.querySelectorAll('tbody tr')[row]
    line?.querySelectorAll<HTMLElement>('button')[column + 1]?.focus()
  }
}

customElements.define('lan-step-grid', LanStepGrid)

declare global {
  interface HTMLElementTagNameMap {
    'lan-step-grid': LanStepGrid
  }
}
