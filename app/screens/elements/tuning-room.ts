import type { PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { Part } from '../../../src/domain/song.ts'
import { ask } from '../controllers/ask-event.ts'
import { AskWhenChanged } from '../controllers/ask-when-changed.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import { RoomController, roomHref } from '../controllers/room-controller.ts'
import { isElsewhere } from '../controllers/view-slices.ts'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'
import type { ChosenPart } from '../tuning/chosen-part.ts'
import { chosenPart } from '../tuning/chosen-part.ts'
import type { NamedDuty } from '../tuning/duties-in-use.ts'
import { liveDuties, partDuties } from '../tuning/duties-in-use.ts'
import type { LampRows, Series } from '../tuning/pitch-rows.ts'
import { litLamps, seriesOf, tallyOf } from '../tuning/pitch-rows.ts'
import { tallyWords } from '../tuning/tuning-words.ts'
import './cents-picture.ts'
import './partials-picture.ts'
import './pitch-rows.ts'
import './select-field.ts'
import './tuning-list.ts'

const SHOWN = ['show', 'song', 'tuning', 'editRefused', 'link', 'welcome'] as const
const WORST = ''

/** What each key of a part becomes on its lamps, what its duty sounds like, and the show's tunings. */
export class LanTuningRoom extends LitElement {
  static override properties = { view: { attribute: false }, lamp: { state: true } }
  static override styles = [
    controls,
    plate,
    css`
      .two {
        display: grid;
        grid-template-columns: minmax(0, 1fr);
        gap: 1.5rem;
      }
      @media (min-width: 1100px) {
        .two {
          grid-template-columns: minmax(0, 1.3fr) minmax(0, 1fr);
          align-items: start;
        }
      }
      lan-select-field {
        min-width: 12rem;
      }
      .words {
        margin: 0 0 0.75rem;
      }
      .missing {
        color: var(--warn);
      }
    `,
  ]
  declare view: HouseView
  /** The lamp whose pitches are shown; empty: for each key the one that is farthest off. */
  declare private lamp: string
  readonly #room = new RoomController(this)
  readonly #asking = new AskWhenChanged(this, () => this.#ask())
  #asked = ''
  /** What is drawn of the lamps' duties; kept the same while it says the same. */
  #duties: readonly NamedDuty[] = []
  #pitches: {
    readonly from: unknown
    readonly lamps: readonly LampRows[]
    readonly series: readonly Series[]
  } = {
    from: undefined,
    lamps: [],
    series: [],
  }

  constructor() {
    super()
    this.view = NOTHING_YET
    this.lamp = WORST
  }

  override shouldUpdate(changed: PropertyValues): boolean {
    return !isElsewhere(changed, this.view, SHOWN) || this.#dutiesNow() !== this.#duties
  }

  override willUpdate(): void {
    this.#duties = this.#dutiesNow()
    const rows = this.#answer()?.lamps
    if (this.#pitches.from !== rows)
      this.#pitches = { from: rows, lamps: rows ?? [], series: seriesOf(rows ?? []) }
  }

  override updated(): void {
    const { show, welcome } = this.view
    const { song, part } = this.#chosen ?? {}
    if (!show || !song || !part) return
    const place = `${song.id}/${part.id}`
    this.#asking.see([welcome, show.revision, place], place !== this.#asked)
  }

  get #chosen(): ChosenPart | undefined {
    const { show, song } = this.view
    const rest = this.#room.room === 'tuning' ? this.#room.rest : []
    return show && chosenPart(show.show, song?.song, rest)
  }

  /** The answer about what is chosen, if it is that. */
  #answer(): HouseView['tuning'] {
    const { tuning } = this.view
    const { song, part } = this.#chosen ?? {}
    return tuning && tuning.song === song?.id && tuning.part === part?.id ? tuning : undefined
  }

  #ask(): void {
    const { song, part } = this.#chosen ?? {}
    if (!song || !part) return
    this.#asked = `${song.id}/${part.id}`
    ask(this, { type: 'ask-tuning', song: song.id, part: part.id })
  }

  #dutiesNow(): readonly NamedDuty[] {
    const { song, part } = this.#chosen ?? {}
    if (!part) return this.#duties.length === 0 ? this.#duties : []
    const isPlaying = this.view.song?.song === song?.id
    const live = isPlaying ? liveDuties(this.view.lamps, part.id, this.#nameOf) : []
    const now = [...partDuties(part), ...live]
    return JSON.stringify(now) === JSON.stringify(this.#duties) ? this.#duties : now
  }

  readonly #nameOf = (lamp: string): string =>
    this.view.show?.show.rig.lamps.find(({ id }) => id === lamp)?.name ?? lamp

  override render(): TemplateResult {
    const chosen = this.#chosen
    return html`<div class="plate">
      <div class="head">
        <h1 class="label">Tuning</h1>
        <p>What is asked of each lamp, what its output really makes, and what its duty adds.</p>
      </div>
      ${chosen ? this.#choosing(chosen) : nothing}
      <div class="two">
        <section class="pane" aria-labelledby="pitches">
          <h2 id="pitches">Pitches</h2>
          ${chosen?.part ? this.#pitchesOf(chosen.part) : html`<p class="margin">${this.#nothing(chosen)}</p>`}
        </section>
        <section class="pane" aria-labelledby="duty">
          <h2 id="duty">Duty and partials</h2>
          ${
            chosen?.part
              ? html`<lan-partials-picture .duties=${this.#duties}></lan-partials-picture
                  >${this.#trims(chosen.part)}`
              : html`<p class="margin">${this.#nothing(chosen)}</p>`
          }
        </section>
      </div>
      <section class="pane" aria-labelledby="tunings">
        <h2 id="tunings">Tunings of the show</h2>
        <lan-tuning-list .view=${this.view}></lan-tuning-list>
      </section>
    </div>`
  }

  #nothing(chosen: ChosenPart | undefined): string {
    if (!this.view.show) return 'Waiting for the show.'
    if (!chosen) return 'This show has no song.'
    return `${chosen.song.title} has no part.`
  }

  #choosing({ song, part, missing }: ChosenPart): TemplateResult {
    const show = this.view.show?.show
    const lamps = litLamps(this.#pitches.lamps).map(({ lamp }) => ({
      value: lamp,
      text: this.#nameOf(lamp),
    }))
    return html`<div class="tools">
        <lan-select-field
          look
          label="Song"
          .value=${song.id}
          .choices=${show?.songs.map(({ id, title }) => ({ value: id, text: title })) ?? []}
          @lan-commit=${(event: CommitEvent<string>) => this.#go(event.value)}
        ></lan-select-field>
        <lan-select-field
          look
          label="Part"
          .value=${part?.id ?? ''}
          .choices=${song.parts.map(({ id, player }) => ({ value: id, text: `${id} (${this.#playerName(player)})` }))}
          @lan-commit=${(event: CommitEvent<string>) => this.#go(song.id, event.value)}
        ></lan-select-field>
        <lan-select-field
          look
          label="Lamp"
          .value=${this.#lampShown()}
          .choices=${[{ value: WORST, text: 'worst of all lamps' }, ...lamps]}
          @lan-commit=${(event: CommitEvent<string>) => (this.lamp = event.value)}
        ></lan-select-field>
      </div>
      ${missing === undefined ? nothing : html`<p class="missing" role="status">${missing}</p>`}`
  }

  #go(...rest: readonly string[]): void {
    location.hash = roomHref('tuning', ...rest)
  }

  #playerName(player: string): string {
    return this.view.show?.show.players.find(({ id }) => id === player)?.name ?? player
  }

  /** A lamp that the part has not stays chosen for the next part that has it. */
  #lampShown(): string {
    return litLamps(this.#pitches.lamps).some(({ lamp }) => lamp === this.lamp) ? this.lamp : WORST
  }

  #pitchesOf(part: Part): TemplateResult {
    const answer = this.#answer()
    if (!answer) return html`<p class="margin" role="status">Working out the pitches of ${part.id}...</p>`
    const lamp = this.#lampShown()
    const { lamps, series } = this.#pitches
    const words = tallyWords(
      tallyOf(lamp === WORST ? lamps : lamps.filter((one) => one.lamp === lamp)),
      this.#nameOf,
    )
    const unlit = lamps.flatMap((one) => (one.rows.length === 0 ? [this.#nameOf(one.lamp)] : []))
    const isStale = answer.revision !== this.view.show?.revision
    return html`<p class="words">${words}</p>
      <p class="margin" role="status">
        ${isStale ? 'The show has changed; working out the pitches anew...' : ''}
      </p>
      ${
        unlit.length === 0
          ? nothing
          : html`<p class="margin">The strategy of this part never lights ${unlit.join(', ')}.</p>`
      }
      <lan-cents-picture
        .series=${series}
        .chosen=${lamp}
        .nameOf=${this.#nameOf}
        .words=${words}
      ></lan-cents-picture>
      <p class="margin">
        <em>fig. 1, cents between what is wanted of a lamp and what its output makes, key by key.</em>
      </p>
      <lan-pitch-rows .lamps=${lamps} .chosen=${lamp} .nameOf=${this.#nameOf}></lan-pitch-rows>`
  }

  /** Lamps that keep the part's duty narrower than it is. */
  #trims(part: Part): TemplateResult | typeof nothing {
    const duties = partDuties(part)
    const trimming = (this.view.show?.show.rig.lamps ?? []).filter(
      ({ id, minDuty, maxDuty }) =>
        part.lamps.includes(id) && duties.some(({ duty }) => duty < minDuty || duty > maxDuty),
    )
    if (trimming.length === 0) return nothing
    const each = trimming.map(({ name, minDuty, maxDuty }) => `${name} ${minDuty} to ${maxDuty}`)
    return html`<p class="margin">Lamps that keep duty narrower: ${each.join('; ')}.</p>`
  }
}

customElements.define('lan-tuning-room', LanTuningRoom)
