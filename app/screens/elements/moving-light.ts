import type { PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import type { LightHistory } from '../controllers/light-history.ts'
import { LightRecorder } from '../controllers/light-recorder.ts'
import { roomHref } from '../controllers/room-controller.ts'
import { isElsewhere } from '../controllers/view-slices.ts'
import { barWindow } from '../steps/bar-window.ts'
import { wayOf } from '../steps/way-words.ts'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'
import { tempo } from '../wording/figures.ts'
import './last-bars.ts'
import './last-notes.ts'
import './select-field.ts'
import './way-plate.ts'

const SHOWN: readonly (keyof HouseView)[] = ['show', 'song', 'lamps']
const BARS = ['1', '2', '4', '8']
/** The picture is filled by steps, not smoothly: nothing on it moves by itself. */
const EVERY_MS = 250

/** What moves in time: the light of the last bars, and the ways of parts whose strategy moves. */
export class LanMovingLight extends LitElement {
  static override properties = {
    view: { attribute: false },
    bars: { state: true },
    held: { state: true },
  }
  static override styles = [
    controls,
    plate,
    css`
      :host {
        display: grid;
        grid-template-columns: minmax(0, 1fr);
        gap: 1.5rem;
      }
      .tools {
        margin-bottom: 0.8rem;
      }
      .tools h2 {
        flex: 1;
        margin: 0;
      }
      .tools lan-select-field {
        width: 9rem;
      }
      .ways {
        display: grid;
        grid-template-columns: repeat(auto-fill, minmax(min(19rem, 100%), 1fr));
        gap: 1rem;
      }
    `,
  ]
  declare view: HouseView
  declare private bars: string
  /** The picture as it was when it was held. */
  declare private held: { readonly history: LightHistory; readonly now: number } | undefined
  readonly #light = new LightRecorder(this, EVERY_MS)

  constructor() {
    super()
    this.view = NOTHING_YET
    this.bars = '4'
    this.held = undefined
  }

  override shouldUpdate(changed: PropertyValues<this>): boolean {
    return !isElsewhere(changed, this.view, SHOWN)
  }

  override willUpdate(changed: PropertyValues<this>): void {
    const before = changed.get('view')
    this.#light.see(this.view)
    if (before && before.song?.song !== this.view.song?.song) this.held = undefined
  }

  override render(): TemplateResult {
    const show = this.view.show?.show
    const song = show?.songs.find(({ id }) => id === this.view.song?.song)
    return show && song
      ? html`${this.#lastBars(show, song)} ${this.#ways(show, song)}`
      : html`<p class="soft">No song plays.</p>`
  }

  #lastBars(show: Show, song: Song): TemplateResult {
    const { history, now } = this.held ?? this.#light
    const window = barWindow(history, now, song, Number(this.bars))
    const lamps = show.rig.lamps.filter(({ id }) => song.parts.some((part) => part.lamps.includes(id)))
    return html`<section>
      <div class="tools">
        <h2><em>${song.title}</em></h2>
        <lan-select-field
          look
          label="Bars shown"
          .value=${this.bars}
          .choices=${BARS.map((count) => ({ value: count, text: count }))}
          @lan-commit=${(event: CommitEvent<string>) => {
            this.bars = event.value
          }}
        ></lan-select-field>
        <button aria-pressed=${this.held !== undefined} @click=${() => this.#hold()}>
          ${this.held ? 'Go on' : 'Hold the picture'}
        </button>
      </div>
      <figure>
        <lan-last-bars
          .lamps=${lamps}
          .players=${show.players}
          .history=${history}
          .window=${window}
          .now=${now}
        ></lan-last-bars>
        <figcaption>
          fig. 1. The last bars, at ${tempo(song.tempo)} beats a minute and ${song.beats} beats to the bar.
          The stripe and the leaf are the player’s; the brighter, the more duty. Bars are counted from the
          first light seen here. A lamp that glows between notes is left out while it does.
        </figcaption>
      </figure>
      <lan-last-notes
        .lamps=${lamps}
        .players=${show.players}
        .history=${history}
        .window=${window}
      ></lan-last-notes>
    </section>`
  }

  #hold(): void {
    this.held = this.held ? undefined : { history: this.#light.history, now: this.#light.now }
  }

  #ways(show: Show, song: Song): TemplateResult {
    const ways = song.parts.flatMap((part) => {
      const way = wayOf(part, song)
      return way ? [{ part, way }] : []
    })
    return html`<section>
      <h2>Ways over the lamps</h2>
      ${
        ways.length === 0
          ? html`<p class="margin">
              No part of this song moves by itself; each lights its lamps as it is played.
            </p>`
          : nothing
      }
      <div class="ways">
        ${ways.map(
          ({ part, way }) =>
            html`<lan-way-plate
              .show=${show}
              .chosen=${part}
              .way=${way}
              href=${roomHref('sheet', song.id, part.id)}
            ></lan-way-plate>`,
        )}
      </div>
    </section>`
  }
}

customElements.define('lan-moving-light', LanMovingLight)

declare global {
  interface HTMLElementTagNameMap {
    'lan-moving-light': LanMovingLight
  }
}
