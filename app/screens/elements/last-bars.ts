import type { TemplateResult } from 'lit'
import { css, html, LitElement, svg } from 'lit'
import type { Lamp } from '../../../src/domain/rig.ts'
import type { Player } from '../../../src/domain/player.ts'
import type { LightHistory } from '../controllers/light-history.ts'
import type { BarWindow, SpanBox } from '../steps/bar-window.ts'
import { beatWords, spanBoxes } from '../steps/bar-window.ts'
import { controls } from '../style/controls.ts'
import { ownerLeaf, ownerMark } from '../style/owner-mark.ts'
import { plate } from '../style/plate.ts'
import { many } from '../wording/figures.ts'
import { noteName } from '../wording/note-name.ts'

const ROW = 34
const HEAD = 26
/** Duty that is drawn at full brightness. */
const FULL_DUTY = 0.5

/** What lamps were lit over the last bars: a row a lamp, time from left to right. */
export class LanLastBars extends LitElement {
  static override properties = {
    lamps: { attribute: false },
    players: { attribute: false },
    history: { attribute: false },
    window: { attribute: false },
    now: { attribute: false },
  }
  static override styles = [
    controls,
    plate,
    css`
      :host {
        display: block;
      }
      .roll {
        max-height: min(40rem, 60vh);
        border: 1px solid var(--bar-strong);
        background: var(--pane);
      }
      .picture {
        display: grid;
        grid-template-columns: minmax(5rem, 11rem) minmax(0, 1fr);
      }
      .names {
        list-style: none;
        margin: 0;
        padding: 26px 0 0;
        border-right: 1px solid var(--bar-strong);
        font-family: var(--plate-serif);
        font-style: italic;
      }
      .names li {
        height: 34px;
        line-height: 34px;
        padding: 0 0.6rem;
        white-space: nowrap;
        overflow: hidden;
        text-overflow: ellipsis;
      }
      .thread {
        stroke: var(--bar);
      }
      .beat {
        stroke: var(--bar);
        stroke-dasharray: 1 5;
      }
      .bar {
        stroke: var(--bar-strong);
      }
      .now {
        stroke: var(--paper);
      }
      .light {
        fill: var(--light);
      }
      .seal {
        fill: var(--ground);
      }
    `,
  ]
  declare lamps: readonly Lamp[]
  declare players: readonly Player[]
  declare history: LightHistory
  declare window: BarWindow
  declare now: number

  override render(): TemplateResult {
    const { lamps, history, window, now } = this
    const boxes = spanBoxes(history.spans, window, now)
    const height = HEAD + ROW * lamps.length
    const last = window.firstBar + window.bars
    return html`<div class="roll" tabindex="0" role="group" aria-label="Picture of the last bars">
      <div class="picture">
        <ul class="names" aria-hidden="true">
          ${lamps.map(({ name }) => html`<li>${name}</li>`)}
        </ul>
        <svg
          role="img"
          width="100%"
          height=${height}
          style=${`height:${height}px`}
          aria-label=${`Bars ${window.firstBar + 1} to ${last}: ${many(boxes.length, 'light')} on ${many(
            new Set(boxes.map(({ span }) => span.lamp)).size,
            'lamp',
          )}. The table below says the same in words.`}
        >
          ${this.#lines(height)} ${boxes.map((box) => this.#box(box))} ${this.#nowLine(height)}
        </svg>
      </div>
    </div>`
  }

  #lines(height: number): TemplateResult[] {
    const { firstBar, bars, beats } = this.window
    const threads = this.lamps.map((_, row) => {
      const y = HEAD + ROW * (row + 0.5)
      return svg`<line class="thread" x1="0" x2="100%" y1=${y} y2=${y}></line>`
    })
    const columns = Array.from({ length: bars * beats }, (_, beat) => {
      const x = `${(100 * beat) / (bars * beats)}%`
      const bar = beat / beats
      return Number.isInteger(bar)
        ? svg`<line class="bar" x1=${x} x2=${x} y1="0" y2=${height}></line>
            <text x=${x} y="18" dx="6">${firstBar + bar + 1}</text>`
        : svg`<line class="beat" x1=${x} x2=${x} y1=${HEAD} y2=${height}></line>`
    })
    return [...threads, ...columns] as unknown as TemplateResult[]
  }

  #box({ span, left, width }: SpanBox): TemplateResult {
    const row = this.lamps.findIndex(({ id }) => id === span.lamp)
    if (row < 0) return html``
    const mark = ownerMark(this.players, span.player)
    const y = HEAD + ROW * row
    const brightness = 0.3 + 0.7 * Math.min(1, span.duty / FULL_DUTY)
    return svg`<rect
        class="light"
        x=${`${100 * left}%`}
        y=${y + 6}
        width=${`${100 * width}%`}
        height=${ROW - 12}
        fill-opacity=${brightness.toFixed(2)}
      ></rect>
      <rect x=${`${100 * left}%`} y=${y + 6} width=${`${100 * width}%`} height="4" fill=${mark.ink}></rect>
      <svg x=${`${100 * left}%`} y=${y + ROW / 2 - 6} width="16" height="16" viewBox="-12 -12 24 24">
        <circle class="seal" r="12"></circle>
        ${ownerLeaf(mark)}
        <title>${this.#words(span.key, span.from)}</title>
      </svg>` as unknown as TemplateResult
  }

  #words(key: number | undefined, from: number): string {
    return [...(key === undefined ? [] : [noteName(key)]), beatWords(from, this.history, this.window)].join(
      ', ',
    )
  }

  #nowLine(height: number): TemplateResult {
    const { from, bars, barMicros } = this.window
    const x = `${Math.min(100, (100 * (this.now - from)) / (bars * barMicros))}%`
    return svg`<line class="now" x1=${x} x2=${x} y1=${HEAD - 6} y2=${height}></line>` as unknown as TemplateResult
  }
}

customElements.define('lan-last-bars', LanLastBars)

declare global {
  interface HTMLElementTagNameMap {
    'lan-last-bars': LanLastBars
  }
}
