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
import { litLamps, seriesOf } from '../tuning/pitch-rows.ts'
import './chord-pane.ts'
import './part-pitches.ts'
import './partials-picture.ts'
import './select-field.ts'
import type { LanTuningList } from './tuning-list.ts'
import './tuning-list.ts'
import './tuning-now.ts'

const SHOWN = [
  'show',
  'song',
  'tuned',
  'tuning',
  'scaleRead',
  'scales',
  'scaleWritten',
  'editRefused',
  'link',
  'welcome',
] as const
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
  /** Keys that the part's player holds; kept the same while they are. */
  #held: readonly number[] = []
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
    return (
      !isElsewhere(changed, this.view, SHOWN) ||
      this.#dutiesNow() !== this.#duties ||
      this.#heldNow() !== this.#held
    )
  }

  /** Files of a scale that were dropped. */
  takeFiles(files: readonly File[]): void {
    void this.renderRoot.querySelector<LanTuningList>('lan-tuning-list')?.take(files)
  }

  override willUpdate(): void {
    this.#held = this.#heldNow()
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

  #heldNow(): readonly number[] {
    const player = this.#chosen?.part?.player
    const now = this.view.players.get(player ?? '')?.keys.map(({ key }) => key) ?? []
    return now.join() === this.#held.join() ? this.#held : now
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
      ${this.#now()} ${chosen ? this.#choosing(chosen) : nothing}
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
      ${chosen?.part ? this.#chord(chosen.part) : nothing}
      <section class="pane" aria-labelledby="tunings">
        <h2 id="tunings">Tunings of the show</h2>
        <lan-tuning-list .view=${this.view}></lan-tuning-list>
      </section>
    </div>`
  }

  #now(): TemplateResult | typeof nothing {
    const { show, song, tuned } = this.view
    if (!show) return nothing
    const playing = show.show.songs.find(({ id }) => id === song?.song)
    return html`<section class="pane" aria-labelledby="now">
      <h2 id="now">What plays now</h2>
      <lan-tuning-now .show=${show.show} .song=${playing} .tuned=${tuned}></lan-tuning-now>
    </section>`
  }

  #chord(part: Part): TemplateResult {
    return html`<section class="pane" aria-labelledby="chord">
      <h2 id="chord">A chord</h2>
      <lan-chord-pane
        .lamps=${this.#pitches.lamps}
        .held=${this.#held}
        .player=${this.#playerName(part.player)}
        .nameOf=${this.#nameOf}
      ></lan-chord-pane>
    </section>`
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
    const { lamps, series } = this.#pitches
    return html`<lan-part-pitches
      .lamps=${lamps}
      .series=${series}
      .chosen=${this.#lampShown()}
      .aside=${this.#inTuning(part)}
      .isStale=${answer.revision !== this.view.show?.revision}
      .nameOf=${this.#nameOf}
    ></lan-part-pitches>`
  }

  /** Which tuning the pitches are in, where that is not what plays, or is not known beforehand. */
  #inTuning(part: Part): string {
    const { show, song, tuned } = this.view
    const id = part.tuning ?? this.#chosen?.song.tuning
    const tuning = show?.show.tunings.find((one) => one.id === id)
    const isOther = tuned !== null && song?.song === this.#chosen?.song.id && part.tuning === undefined
    return [
      ...(tuning?.kind === 'received'
        ? [`Shown as in ${tuning.base}: what ${this.#playerName(tuning.player)} sends is not known here.`]
        : []),
      ...(isOther ? [`Shown in ${id}, the song\u2019s own; it plays in ${tuned} now.`] : []),
    ].join(' ')
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
