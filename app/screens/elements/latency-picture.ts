import type { SVGTemplateResult, TemplateResult } from 'lit'
import { css, html, LitElement, svg } from 'lit'
import type { FromEngine, Spread } from '../../../src/contract/from-engine.ts'
import type { LatencySlot } from '../monitor/latency-slots.ts'
import { latencySlots, milliseconds } from '../monitor/latency-slots.ts'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'
import { many } from '../wording/figures.ts'

export type Figures = Extract<FromEngine, { type: 'figures' }>

const WIDTH = 480
const HEIGHT = 210
const TOP = 28
const FLOOR = HEIGHT - 44

/** How long the engine takes: from an input to its bytes at the port as bars, the same and its lateness as figures, and what it counted. */
export class LanLatencyPicture extends LitElement {
  static override properties = { figures: { attribute: false } }
  static override styles = [
    controls,
    plate,
    css`
      .three {
        display: grid;
        gap: 1.5rem;
        grid-template-columns: repeat(auto-fit, minmax(min(100%, 20rem), 1fr));
        align-items: start;
      }
      rect {
        fill: var(--paper-soft);
      }
      line {
        stroke: var(--bar-strong);
      }
      table {
        width: 100%;
      }
    `,
  ]
  declare figures: Figures | undefined

  override render(): TemplateResult {
    const { figures } = this
    if (!figures) return html`<p class="margin">Nothing is measured yet.</p>`
    const slots = latencySlots(figures.latencyBins)
    return html`<div class="three">
      ${picture(slots, figures.latency)}
      <div>
        <table>
          <caption class="unseen">
            Latency from an input to its bytes at the port, and lateness of steps against when they were due,
            in milliseconds
          </caption>
          <thead>
            <tr>
              <th scope="col">ms</th>
              ${['half within', '95 % within', '99 % within', 'longest', 'counted'].map(
                (head) => html`<th scope="col" class="number">${head}</th>`,
              )}
            </tr>
          </thead>
          <tbody>
            ${spreadRow('Latency', figures.latency)} ${spreadRow('Lateness', figures.lateness)}
          </tbody>
        </table>
        <p class="margin">
          Latency: from an input to its bytes at the port. Lateness: from when a step was due until it was
          taken. Under 10 ms feels immediate, and jitter hurts more than delay (common practice).
        </p>
      </div>
      ${counts(figures.counts)}
    </div>`
  }
}

function spreadRow(name: string, { p50, p95, p99, max, count }: Spread): TemplateResult {
  return html`<tr>
    <th scope="row">${name}</th>
    ${[p50, p95, p99, max].map(
      (micros) => html`<td class="number">${count === 0 ? '' : milliseconds(micros)}</td>`,
    )}
    <td class="number">${count}</td>
  </tr>`
}

function counts(figures: Readonly<Record<string, number>>): TemplateResult {
  const entries = Object.entries(figures).toSorted(([a], [b]) => a.localeCompare(b))
  if (entries.length === 0) return html`<p class="margin">Nothing was counted yet.</p>`
  return html`<table>
    <caption class="unseen">
      What the engine counted since it began
    </caption>
    <thead>
      <tr>
        <th scope="col">Counted</th>
        <th scope="col" class="number">Times</th>
      </tr>
    </thead>
    <tbody>
      ${entries.map(
        ([name, count]) =>
          html`<tr>
            <th scope="row">${name}</th>
            <td class="number">${count}</td>
          </tr>`,
      )}
    </tbody>
  </table>`
}

function picture(slots: readonly LatencySlot[], { count }: Spread): TemplateResult {
  if (slots.length === 0) return html`<p class="margin">No input has been played on yet.</p>`
  const most = Math.max(...slots.map((slot) => slot.count))
  const wide = WIDTH / slots.length
  return html`<figure>
    <svg viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label=${altText(slots, count)}>
      <line x1="0" x2=${WIDTH} y1=${FLOOR} y2=${FLOOR}></line>
      ${slots.map((slot, index) => bar(slot, (index + 0.5) * wide, wide, most))}
    </svg>
    <figcaption>
      fig. 1, latency: each bar counts times up to the milliseconds below it, above those of the bar before
    </figcaption>
  </figure>`
}

function bar({ upTo, count }: LatencySlot, x: number, wide: number, most: number): SVGTemplateResult {
  const tall = (count / most) * (FLOOR - TOP)
  const width = Math.min(56, wide * 0.7)
  return svg`<rect x=${x - width / 2} y=${FLOOR - tall} width=${width} height=${tall}></rect>
    ${count > 0 ? svg`<text x=${x} y=${FLOOR - tall - 7} text-anchor="middle">${count}</text>` : ''}
    <text x=${x} y=${FLOOR + 20} text-anchor="middle">${milliseconds(upTo)}</text>`
}

function altText(slots: readonly LatencySlot[], count: number): string {
  const bars = slots
    .filter((slot) => slot.count > 0)
    .map((slot) => `${slot.count} up to ${milliseconds(slot.upTo)} ms`)
  return `Latency of ${many(count, 'input')}: ${bars.join(', ')}.`
}

customElements.define('lan-latency-picture', LanLatencyPicture)
