import type { SVGTemplateResult, TemplateResult } from 'lit'
import { css, html, LitElement, svg } from 'lit'
import type { PadHit, PlayerActivity } from '../../../src/contract/from-engine.ts'
import type { PadsPlayer } from '../../../src/domain/player.ts'
import { padName } from '../../../src/domain/player.ts'
import type { Stem } from '../rig/hit-figures.ts'
import { DROP_WORDS, dropLetter, hitsText, stems } from '../rig/hit-figures.ts'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'
import { noteName } from '../wording/note-name.ts'

const WIDTH = 400
const HEIGHT = 190
const LEFT = 32
const RIGHT = WIDTH - 16
const TOP = 22
const FLOOR = HEIGHT - 30
const COUNTED = ['floor', 'mask', 'crosstalk'] as const

/**
 * What pads were hit last and what became of it: stems as high as they were struck, those dropped with a hollow head and the reason's letter; the same as
 * a table; and how many there were. It changes with each hit and stands still otherwise.
 */
export class LanHitPicture extends LitElement {
  static override properties = { player: { attribute: false }, activity: { attribute: false } }
  static override styles = [
    controls,
    plate,
    css`
      :host {
        display: block;
        position: relative;
      }
      line {
        stroke: var(--bar-strong);
      }
      line.stem {
        stroke: var(--paper);
        stroke-width: 2;
      }
      line.stem.dropped {
        stroke: var(--paper-soft);
        stroke-width: 1;
      }
      line.floor {
        stroke-dasharray: 5 4;
      }
      circle {
        fill: var(--paper);
        stroke: var(--paper);
        stroke-width: 1.5;
      }
      /* Over other stems. */
      text.why {
        fill: var(--paper);
        font-weight: 700;
        stroke: var(--pane);
        stroke-width: 4;
        paint-order: stroke;
      }
      circle.dropped {
        fill: var(--pane);
      }
      .latest {
        margin: 0 0 0.4rem;
        min-height: 1.5em;
        font-size: 1.125rem;
        font-variant-numeric: tabular-nums;
      }
      dl {
        display: flex;
        flex-wrap: wrap;
        gap: 0.4rem 1.4rem;
        margin: 0.7rem 0 0;
      }
      dt {
        color: var(--paper-soft);
        font-size: 0.875rem;
      }
      dd {
        margin: 0;
        font-size: 1.375rem;
        font-variant-numeric: tabular-nums;
      }
      .roll {
        max-height: 14rem;
      }
      table {
        width: 100%;
      }
    `,
  ]
  declare player: PadsPlayer
  declare activity: PlayerActivity | undefined

  override render(): TemplateResult {
    const hits = this.activity?.hits ?? []
    const latest = hits.at(-1)
    return html`<p class="latest">
        ${latest ? `${this.#called(latest)}: ${became(latest)}` : 'Hit a pad, and it is drawn here.'}
      </p>
      <figure>
        <svg
          viewBox="0 0 ${WIDTH} ${HEIGHT}"
          role="img"
          aria-label=${`Hits on ${this.player.name}: ${hitsText(hits)}.`}
        >
          ${this.#ground()} ${stems(hits).map(stem)}
        </svg>
        <figcaption>
          the last two seconds of playing, as hard as struck; hollow: dropped, as T too soft, B a bounce, C
          crosstalk
        </figcaption>
      </figure>
      ${this.#counts()} ${this.#table(hits)}`
  }

  #ground(): SVGTemplateResult {
    const floor = heightOf(this.player.floor / 127)
    return svg`<line x1=${LEFT} x2=${RIGHT} y1=${FLOOR} y2=${FLOOR}></line>
      <line class="floor" x1=${LEFT} x2=${RIGHT} y1=${floor} y2=${floor}></line>
      <text x=${LEFT - 5} y=${TOP + 5} text-anchor="end">127</text>
      <text x=${LEFT - 5} y=${Math.min(floor + 5, FLOOR)} text-anchor="end">${this.player.floor}</text>
      <text x=${LEFT} y=${HEIGHT - 8}>2 s before</text>
      <text x=${RIGHT} y=${HEIGHT - 8} text-anchor="end">latest</text>`
  }

  #counts(): TemplateResult {
    const { notes = 0, drops } = this.activity ?? {}
    return html`<dl aria-label="Counted since the show began to play or players were changed">
      <div>
        <dt>taken</dt>
        <dd>${notes}</dd>
      </div>
      ${COUNTED.map(
        (why) =>
          html`<div>
            <dt>${DROP_WORDS[why]}</dt>
            <dd>${drops?.[why] ?? 0}</dd>
          </div>`,
      )}
    </dl>`
  }

  #table(hits: readonly PadHit[]): TemplateResult {
    const latest = hits.at(-1)?.at ?? 0
    return html`<details>
      <summary>The same as a table</summary>
      <div class="roll" tabindex="0" role="group" aria-label="The last hits on ${this.player.name}">
        <table>
          <caption class="unseen">
            The last hits on ${this.player.name}, the latest first
          </caption>
          <thead>
            <tr>
              <th scope="col" class="number">Before the latest, ms</th>
              <th scope="col">Pad</th>
              <th scope="col">What became of it</th>
            </tr>
          </thead>
          <tbody>
            ${hits.toReversed().map(
              (hit) =>
                html`<tr>
                  <td class="number">${((latest - hit.at) / 1000).toFixed(1)}</td>
                  <td>${this.#called(hit)}</td>
                  <td>${became(hit)}</td>
                </tr>`,
            )}
          </tbody>
        </table>
      </div>
    </details>`
  }

  #called({ key }: PadHit): string {
    return padName(this.player, key) ?? `${noteName(key)} (${key})`
  }
}

function became({ velocity, taken, dropped }: PadHit): string {
  const then = dropped
    ? `, dropped: ${DROP_WORDS[dropped]}`
    : taken === undefined
      ? ''
      : `, taken for ${taken}`
  return `struck ${velocity}${then}`
}

function heightOf(share: number): number {
  return FLOOR - share * (FLOOR - TOP)
}

function stem({ hit: { dropped }, along, high }: Stem): SVGTemplateResult {
  const x = LEFT + 8 + along * (RIGHT - LEFT - 16)
  const y = heightOf(high)
  const drop = dropped ? ' dropped' : ''
  return svg`<line class="stem${drop}" x1=${x} x2=${x} y1=${FLOOR} y2=${y}></line>
    <circle class=${drop} cx=${x} cy=${y} r="4.5"></circle>
    ${dropped ? svg`<text class="why" x=${x + 8} y=${y + 3}>${dropLetter(dropped)}</text>` : ''}`
}

customElements.define('lan-hit-picture', LanHitPicture)

declare global {
  interface HTMLElementTagNameMap {
    'lan-hit-picture': LanHitPicture
  }
}
