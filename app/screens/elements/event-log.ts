import type { TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import { repeat } from 'lit/directives/repeat.js'
import type { MonitorEvent } from '../../../src/contract/from-engine.ts'
import type { Micros } from '../../../src/domain/units.ts'
import { eventTime } from '../monitor/event-words.ts'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'
import { wayMark } from '../style/way-mark.ts'

/** The list was scrolled away from its newest line, or back to it. */
export class FollowEvent extends Event {
  static readonly type = 'lan-follow'
  readonly isFollowing: boolean

  constructor(isFollowing: boolean) {
    super(FollowEvent.type)
    this.isFollowing = isFollowing
  }
}

/** As near to the end as counts as there. */
const NEAR_PX = 12

/** Events as lines, the newest at the bottom; kept in sight while `isFollowing`. */
export class LanEventLog extends LitElement {
  static override properties = {
    events: { attribute: false },
    first: { attribute: false },
    isFollowing: { attribute: false },
  }
  static override styles = [
    controls,
    plate,
    css`
      .roll {
        height: 100%;
        min-height: 14rem;
        border: 1px solid var(--bar);
        background: var(--pane);
        padding: 0 1rem;
      }
      table {
        width: 100%;
      }
      th,
      td {
        padding-block: 0.15rem;
      }
      thead th {
        white-space: nowrap;
      }
      td:nth-child(4) {
        width: 70%;
        overflow-wrap: anywhere;
      }
      td:last-child {
        width: 30%;
        min-width: 8rem;
        color: var(--paper-soft);
        overflow-wrap: anywhere;
      }
      tbody th {
        font-weight: 400;
      }
    `,
  ]
  declare events: readonly MonitorEvent[]
  /** What times are counted from. */
  declare first: Micros
  declare isFollowing: boolean

  constructor() {
    super()
    this.events = []
    this.first = 0
    this.isFollowing = true
  }

  override updated(): void {
    const frame = this.#frame
    if (this.isFollowing && frame) frame.scrollTop = frame.scrollHeight
  }

  get #frame(): Element | null {
    return this.renderRoot.querySelector('.roll')
  }

  override render(): TemplateResult {
    return html`<div
      class="roll"
      role="log"
      aria-live="off"
      aria-label="Events"
      tabindex="0"
      @scroll=${() => this.#scrolled()}
    >
      <table>
        <caption class="unseen">
          Events, the newest last; time in seconds since the first
        </caption>
        <thead>
          <tr>
            <th scope="col" class="number">Time, s</th>
            <th scope="col">Way</th>
            <th scope="col">Source</th>
            <th scope="col">What</th>
            <th scope="col">Bytes</th>
          </tr>
        </thead>
        <tbody>
          ${repeat(
            this.events,
            (event) => event,
            ({ at, way, source, text, bytes }) =>
              html`<tr>
                <td class="number">${eventTime(at, this.first)}</td>
                <td>${wayMark(way)}</td>
                <th scope="row">${source}</th>
                <td>${text}</td>
                <td class="figures">${bytes ?? ''}</td>
              </tr>`,
          )}
        </tbody>
      </table>
    </div>`
  }

  #scrolled(): void {
    const frame = this.#frame
    if (!frame) return
    const isFollowing = frame.scrollHeight - frame.clientHeight - frame.scrollTop < NEAR_PX
    if (isFollowing !== this.isFollowing) this.dispatchEvent(new FollowEvent(isFollowing))
  }
}

customElements.define('lan-event-log', LanEventLog)

declare global {
  interface HTMLElementEventMap {
    'lan-follow': FollowEvent
  }
}
