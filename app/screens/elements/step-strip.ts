import type { TemplateResult } from 'lit'
import { css, html, LitElement, svg } from 'lit'
import type { PartSteps } from '../../../src/contract/from-engine.ts'
import type { PatternRow } from '../../../src/domain/pattern.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import { rowName } from '../steps/pattern-place.ts'
import { positionWords } from '../steps/step-words.ts'
import { controls } from '../style/controls.ts'
import { ownerChip, ownerMark } from '../style/owner-mark.ts'

/** Rows longer than this have their step told in figures only. */
const MOST_DRAWN = 16

/** On the Stage: for each part that plays a pattern, which one, and at which step each row stands. */
export class LanStepStrip extends LitElement {
  static override properties = {
    show: { attribute: false },
    song: { attribute: false },
    steps: { attribute: false },
  }
  static override styles = [
    controls,
    css`
      :host {
        display: block;
        min-width: 0;
        border-top: 1px solid var(--bar-strong);
      }
      ul {
        margin: 0;
        padding: 0.3rem 1.25rem;
        max-height: 8.5rem;
        overflow: auto;
        list-style: none;
        outline-offset: -3px;
      }
      li {
        display: flex;
        flex-wrap: wrap;
        gap: 0.1rem 1.6rem;
        align-items: center;
        min-height: 2.25rem;
        font-size: 1.25rem;
      }
      em {
        font: italic 500 1.375rem var(--plate-serif);
      }
      .row {
        display: inline-flex;
        align-items: center;
        gap: 0.5em;
        font-variant-numeric: tabular-nums;
        white-space: nowrap;
      }
      .row b {
        display: inline-block;
        min-width: 4.2em;
        font-size: 1.5rem;
        line-height: 1.2;
      }
      svg {
        height: 1.25rem;
        width: auto;
      }
      .cell {
        fill: none;
        stroke: var(--bar-strong);
        stroke-width: 1.5;
      }
      .cell.note {
        fill: var(--bar-strong);
      }
      .foot {
        fill: var(--paper);
      }
      .muted {
        color: var(--paper-soft);
      }
    `,
  ]
  declare show: Show
  declare song: Song
  declare steps: ReadonlyMap<string, PartSteps>

  override render(): TemplateResult {
    return html`<ul aria-label="Patterns" tabindex="0">
      ${[...this.steps.values()].map((one) => this.#part(one))}
    </ul>`
  }

  #part(at: PartSteps): TemplateResult {
    const { show, song } = this
    const part = song.parts.find(({ id }) => id === at.part)
    const pattern = song.patterns.find(({ id }) => id === at.pattern)
    const mark = ownerMark(show.players, part?.player ?? '')
    return html`<li>
      ${ownerChip(mark, at.part)} <em>${pattern?.name ?? at.pattern}</em>
      ${(pattern?.rows ?? []).map((row, place) => this.#row(row, at.rows[place], at.muted[place] === true))}
    </li>`
  }

  #row(row: PatternRow, at: number | undefined, isMuted: boolean): TemplateResult {
    const { steps } = row
    return html`<span class=${isMuted ? 'row muted' : 'row'}
      ><span>${rowName(this.show, row)}${isMuted ? ', muted' : ''}</span>
      ${
        steps.length <= MOST_DRAWN
          ? html`<svg viewBox=${`0 0 ${steps.length * 16} 22`} aria-hidden="true">
              ${steps.map((step, index) => cell(step !== 0, index, index === at))}
            </svg>`
          : ''
      }
      <b>${positionWords(at, steps.length)}</b></span
    >`
  }
}

/** A note is filled, a rest hollow; the step the row stands at has a foot. */
function cell(isNote: boolean, index: number, isNow: boolean): TemplateResult {
  return svg`<rect class=${isNote ? 'cell note' : 'cell'} x=${index * 16 + 2} y="2" width="11" height="11"></rect>
    <rect class="foot" x=${index * 16} y="17" width=${isNow ? 15 : 0} height="5"></rect>` as unknown as TemplateResult
}

customElements.define('lan-step-strip', LanStepStrip)

declare global {
  interface HTMLElementTagNameMap {
    'lan-step-strip': LanStepStrip
  }
}
