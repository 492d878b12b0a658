import type { PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { MonitorEvent } from '../../../src/contract/from-engine.ts'
import type { Micros } from '../../../src/domain/units.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { copyText } from '../controllers/copy-text.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import { isElsewhere } from '../controllers/view-slices.ts'
import { WatchController } from '../controllers/watch-controller.ts'
import type { Way } from '../monitor/event-sieve.ts'
import { EVERY_SOURCE, eventsAfter, sifted, sourcesOf, WAYS } from '../monitor/event-sieve.ts'
import { tabbed } from '../monitor/event-words.ts'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'
import { wayMark } from '../style/way-mark.ts'
import type { FollowEvent } from './event-log.ts'
import './event-log.ts'
import './flash-table.ts'
import './latency-picture.ts'
import './select-field.ts'

const SHOWN = ['monitor', 'monitorLeft', 'figures', 'guards', 'show', 'link', 'welcome', 'isLoaded'] as const
/** As many lines as a page can bear; older ones are still counted and copied. */
const MOST_LINES = 200

/** What goes through the house, event by event, and how long it takes. */
export class LanMonitorRoom extends LitElement {
  static override properties = {
    view: { attribute: false },
    isPaused: { state: true },
    isFollowing: { state: true },
    ways: { state: true },
    source: { state: true },
    text: { state: true },
    copied: { state: true },
    cleared: { state: true },
  }
  static override styles = [
    controls,
    plate,
    css`
      .plate {
        min-height: 100%;
        grid-template-rows: auto auto minmax(16rem, 1fr) auto auto;
      }
      .log {
        display: grid;
        grid-template-rows: auto minmax(0, 1fr);
        grid-template-columns: minmax(0, 1fr);
        gap: 0.5rem;
        min-height: 20rem;
        height: 52vh;
      }
      .line {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem 1rem;
        align-items: center;
        min-height: var(--touch);
      }
      .line p {
        margin: 0;
      }
      fieldset {
        border: 0;
        padding: 0;
        margin: 0;
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
      }
      legend,
      .field > label {
        display: block;
        padding: 0;
        color: var(--paper-soft);
        font-size: 0.875rem;
        margin-bottom: 0.2em;
      }
      button[aria-pressed='true'] {
        background: var(--pane-raised);
        border-color: var(--light);
        color: var(--paper);
      }
      button[aria-pressed='false'] {
        background: none;
        border-style: dashed;
        color: var(--paper-soft);
      }
      lan-select-field {
        min-width: 10rem;
      }
    `,
  ]
  declare view: HouseView
  declare private isPaused: boolean
  declare private isFollowing: boolean
  declare private ways: ReadonlySet<Way>
  declare private source: string
  declare private text: string
  declare private copied: string
  /** The last event before the list was cleared, and what was left out until then. */
  declare private cleared: { readonly last: MonitorEvent | undefined; readonly left: number }
  readonly #watch = new WatchController(this)
  /** Since the list was cleared: the last event that came, how many there were, and when the first was. */
  #latest: MonitorEvent | undefined
  #came = 0
  #first: Micros | undefined
  /** While paused, or scrolled back: the list as it was, and how many had come. */
  #held: { readonly events: readonly MonitorEvent[]; readonly came: number } | undefined

  constructor() {
    super()
    this.view = NOTHING_YET
    this.isPaused = false
    this.isFollowing = true
    this.ways = new Set(WAYS)
    this.source = EVERY_SOURCE
    this.text = ''
    this.copied = ''
    this.cleared = { last: undefined, left: 0 }
  }

  override shouldUpdate(changed: PropertyValues): boolean {
    return !isElsewhere(changed, this.view, SHOWN)
  }

  override willUpdate(): void {
    const events = this.#events()
    const fresh = eventsAfter(events, this.#latest)
    this.#came += fresh.length
    this.#latest = fresh.at(-1) ?? this.#latest
    this.#first ??= events[0]?.at
    if (!this.isPaused && this.isFollowing) this.#held = undefined
    else this.#held ??= { events, came: this.#came }
  }

  override updated(): void {
    this.#watch.see(this.view)
  }

  #events(): readonly MonitorEvent[] {
    return eventsAfter(this.view.monitor, this.cleared.last)
  }

  /** What passes the sieve, of the list as it is or as it was held. */
  #sifted(): readonly MonitorEvent[] {
    const { ways, source, text } = this
    return sifted(this.#held?.events ?? this.#events(), { ways, source, text })
  }

  override render(): TemplateResult {
    const events = this.#sifted()
    return html`<div class="plate">
      <div class="head">
        <h1 class="label">Monitor</h1>
        <p>What comes in, what lamps do, what goes out, and words about it.</p>
      </div>
      ${this.#tools()}
      <section class="log" aria-label="Events">
        ${this.#line(events)}
        <lan-event-log
          .events=${events.slice(-MOST_LINES)}
          .first=${this.#first ?? 0}
          .isFollowing=${this.isFollowing}
          @lan-follow=${(event: FollowEvent) => (this.isFollowing = event.isFollowing)}
        ></lan-event-log>
      </section>
      <section class="pane" aria-labelledby="time">
        <h2 id="time">How long it takes</h2>
        <lan-latency-picture .figures=${this.view.figures}></lan-latency-picture>
      </section>
      <section class="pane" aria-labelledby="flashes">
        <h2 id="flashes">How lamps flash</h2>
        <lan-flash-table
          .flash=${this.view.guards?.flash}
          .names=${this.view.show?.show.rig.lamps ?? []}
        ></lan-flash-table>
      </section>
    </div>`
  }

  #tools(): TemplateResult {
    const met = sourcesOf(this.#events())
    const sources = this.source === EVERY_SOURCE || met.includes(this.source) ? met : [...met, this.source]
    return html`<div class="tools">
      <div>
        <fieldset>
          <legend>Way</legend>
          ${WAYS.map(
            (way) =>
              html`<button type="button" aria-pressed=${this.ways.has(way)} @click=${() => this.#toggle(way)}>
                ${wayMark(way)}
              </button>`,
          )}
        </fieldset>
      </div>
      <lan-select-field
        look
        label="Source"
        .value=${this.source}
        .choices=${[
          { value: EVERY_SOURCE, text: 'every source' },
          ...sources.map((one) => ({ value: one, text: one })),
        ]}
        @lan-commit=${(event: CommitEvent<string>) => (this.source = event.value)}
      ></lan-select-field>
      <div class="field">
        <label for="text">Text contains</label>
        <input
          id="text"
          type="search"
          autocomplete="off"
          spellcheck="false"
          .value=${this.text}
          @input=${(event: InputEvent) => (this.text = (event.target as HTMLInputElement).value)}
        />
      </div>
      <button type="button" @click=${() => void this.#copy()}>Copy</button>
      <button type="button" @click=${() => this.#clear()}>Clear</button>
    </div>`
  }

  #line(events: readonly MonitorEvent[]): TemplateResult {
    const more = this.#held ? this.#came - this.#held.came : 0
    const left = this.view.monitorLeft - this.cleared.left
    const tail = more > 0 ? `, ${more} more` : ''
    return html`<div class="line">
      <button type="button" @click=${() => this.#pause()}>${this.isPaused ? `Go on${tail}` : 'Pause'}</button>
      ${
        this.isFollowing
          ? nothing
          : html`<button type="button" @click=${() => (this.isFollowing = true)}>
              To the newest${this.isPaused ? '' : tail}
            </button>`
      }
      <p class="soft figures">${this.#countWords(events.length)}</p>
      ${left > 0 ? html`<p class="soft figures">${left} were too many to be told.</p>` : nothing}
      <p role="status">${this.copied}</p>
    </div>`
  }

  #countWords(count: number): string {
    if (count > MOST_LINES) return `The last ${MOST_LINES} of ${count} are shown.`
    if (count > 0) return `${count} shown.`
    const { link, isLoaded } = this.view
    if (link !== 'open') return 'The host is not reached now.'
    if (!isLoaded) return 'The engine plays no show yet.'
    return this.#events().length > 0 ? 'Nothing here passes the sieve.' : 'Nothing has come yet.'
  }

  #toggle(way: Way): void {
    this.ways = new Set(WAYS.filter((one) => (one === way ? !this.ways.has(way) : this.ways.has(one))))
  }

  #pause(): void {
    this.isPaused = !this.isPaused
    if (!this.isPaused) this.isFollowing = true
  }

  async #copy(): Promise<void> {
    const events = this.#sifted()
    const isDone = await copyText(tabbed(events, this.#first ?? 0), this.renderRoot)
    this.copied = isDone
      ? `${events.length} ${events.length === 1 ? 'line' : 'lines'} copied.`
      : 'This page may not copy; select the lines and copy them by hand.'
  }

  #clear(): void {
    this.cleared = { last: this.view.monitor.at(-1), left: this.view.monitorLeft }
    this.#held = undefined
    this.#latest = undefined
    this.#came = 0
    this.#first = undefined
    this.copied = ''
  }
}

customElements.define('lan-monitor-room', LanMonitorRoom)
