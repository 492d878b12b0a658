import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { Key } from '../../../src/domain/units.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'
import type { Agreement, ChordNote, ChordPair } from '../tuning/chord.ts'
import { agreements, chordNotes, chordPairs, isSounded, MOST_KEYS, readKeys } from '../tuning/chord.ts'
import { beatsWords, meetsWords, ratioWords, silentWords } from '../tuning/chord-words.ts'
import type { LampRows } from '../tuning/pitch-rows.ts'
import { fineHertz } from '../tuning/tuning-words.ts'
import { cents } from '../wording/figures.ts'
import { noteName } from '../wording/note-name.ts'
import './chord-picture.ts'
import './select-field.ts'
import './text-field.ts'

/** C major from middle C. */
const TO_BEGIN_WITH: readonly Key[] = [60, 64, 67]

/** A chord on the lamps of a part: each interval as wanted and as made, which partials nearly meet and how they beat, and whether lamps agree on each key. */
export class LanChordPane extends LitElement {
  static override properties: PropertyDeclarations = {
    lamps: { attribute: false },
    held: { attribute: false },
    player: {},
    nameOf: { attribute: false },
    keys: { state: true },
    chosen: { state: true },
  }
  static override styles = [
    controls,
    plate,
    css`
      :host {
        display: grid;
        grid-template-columns: minmax(0, 1fr);
        gap: 1rem;
      }
      .tools > lan-text-field {
        flex: 1 1 14rem;
        max-width: 26rem;
      }
      .tools lan-select-field {
        min-width: 9rem;
      }
      p {
        margin: 0;
      }
      .silent {
        color: var(--grave);
      }
      .meets span {
        display: block;
      }
    `,
  ]
  declare lamps: readonly LampRows[]
  /** Keys that the part's player holds now. */
  declare held: readonly Key[]
  /** Its name. */
  declare player: string
  declare nameOf: (lamp: string) => string
  declare private keys: readonly Key[]
  /** Lamps that somebody chose for keys. */
  declare private chosen: ReadonlyMap<Key, string>

  constructor() {
    super()
    this.lamps = []
    this.held = []
    this.player = ''
    this.nameOf = (lamp) => lamp
    this.keys = TO_BEGIN_WITH
    this.chosen = new Map()
  }

  override render(): TemplateResult {
    const notes = chordNotes(this.keys, this.lamps, this.chosen)
    const pairs = chordPairs(notes)
    const silent = notes.flatMap((note) => silentWords(note) ?? [])
    return html`<div class="tools">
        <lan-text-field
          look
          label="Keys of the chord"
          hint="By name or number, such as C4 E4 G4; ${MOST_KEYS} at most."
          .longest=${100}
          .check=${keysFault}
          .value=${this.keys.map(noteName).join(' ')}
          @lan-commit=${(event: CommitEvent<string>) => this.#type(event)}
        ></lan-text-field>
        <button type="button" ?disabled=${this.held.length === 0} @click=${() => this.#take()}>
          Take what ${this.player} holds
        </button>
      </div>
      <div class="tools">${notes.map((note) => this.#lampOf(note))}</div>
      ${
        isShared(notes)
          ? html`<p class="margin">
              Keys that stand on one lamp here are looked at one by one: a lamp sounds one key at a time.
            </p>`
          : nothing
      }
      ${silent.length === 0 ? nothing : html`<p class="silent">${silent.join(' ')}</p>`}
      ${pairs.length === 0 ? html`<p class="margin">Two keys that sound make an interval.</p>` : this.#pairs(pairs)}
      ${this.#agreements(agreements(this.keys, this.lamps))}`
  }

  #lampOf({ key, lamps, lamp }: ChordNote): TemplateResult | typeof nothing {
    if (lamps.length === 0) return nothing
    return html`<lan-select-field
      look
      label="${noteName(key)} on"
      .value=${lamp}
      .choices=${lamps.map((one) => ({ value: one, text: this.nameOf(one) }))}
      @lan-commit=${(event: CommitEvent<string>) => {
        event.stopPropagation()
        this.chosen = new Map(this.chosen).set(key, event.value)
      }}
    ></lan-select-field>`
  }

  #pairs(pairs: readonly ChordPair[]): TemplateResult {
    return html`<lan-chord-picture .pairs=${pairs}></lan-chord-picture>
      <div class="roll" role="region" aria-label="Intervals of the chord" tabindex="0">
        <table>
          <caption class="unseen">
            Each two keys of the chord: the interval wanted and made in cents, and partials that nearly meet
          </caption>
          <thead>
            <tr>
              <th scope="col">Keys</th>
              <th scope="col" class="number">Hz made</th>
              <th scope="col" class="number">Wanted, cents</th>
              <th scope="col" class="number">Made, cents</th>
              <th scope="col" class="number">Off</th>
              <th scope="col">Near</th>
              <th scope="col">Partials that beat</th>
            </tr>
          </thead>
          <tbody>
            ${pairs.map((pair) => this.#pair(pair))}
          </tbody>
        </table>
      </div>`
  }

  #pair(pair: ChordPair): TemplateResult {
    const { low, high, wanted, made, meets } = pair
    const [first] = meets
    return html`<tr>
      <th scope="row">${noteName(low.key)}–${noteName(high.key)}</th>
      <td class="number">${hertzOf(low)}<br />${hertzOf(high)}</td>
      <td class="number">${wanted.toFixed(3).replace('-', '\u2212')}</td>
      <td class="number">${made.toFixed(3).replace('-', '\u2212')}</td>
      <td class="number">${cents(made - wanted)}</td>
      <td>${first ? `${ratioWords(first)}, ${cents(first.off)} cents` : 'no simple ratio'}</td>
      <td class="meets">${meets.slice(0, 3).map((one) => html`<span>${meetsWords(pair, one)}</span>`)}</td>
    </tr>`
  }

  #agreements(found: readonly Agreement[]): TemplateResult | typeof nothing {
    if (found.length === 0) return nothing
    return html`<div class="roll" role="region" aria-label="Agreement on each key" tabindex="0">
      <table>
        <caption class="unseen">
          For each key of the chord the lamps of the part that are farthest apart, and how they would beat
          together
        </caption>
        <thead>
          <tr>
            <th scope="col">Key</th>
            <th scope="col">Lowest lamp</th>
            <th scope="col">Highest lamp</th>
            <th scope="col" class="number">They beat</th>
            <th scope="col" class="number">Wanted</th>
          </tr>
        </thead>
        <tbody>
          ${found.map(
            ({ key, lowest, highest, beats, wantedBeats }) =>
              html`<tr>
                <th scope="row">${noteName(key)}</th>
                <td>${this.nameOf(lowest.lamp)} ${fineHertz(lowest.hz)} Hz</td>
                <td>${this.nameOf(highest.lamp)} ${fineHertz(highest.hz)} Hz</td>
                <td class="number">${beatsWords(beats)}</td>
                <td class="number">${beatsWords(wantedBeats)}</td>
              </tr>`,
          )}
        </tbody>
      </table>
      <p class="margin">All lamps of the part on one key; trims and detuning are wanted.</p>
    </div>`
  }

  #type(event: CommitEvent<string>): void {
    event.stopPropagation()
    const keys = readKeys(event.value)
    if (!('fault' in keys)) this.keys = keys
  }

  #take(): void {
    this.keys = this.held.slice(0, MOST_KEYS)
  }
}

/** Whether two keys stand on one lamp. */
function isShared(notes: readonly ChordNote[]): boolean {
  const lamps = notes.flatMap(({ lamp }) => (lamp === '' ? [] : [lamp]))
  return new Set(lamps).size < lamps.length
}

function hertzOf({ row }: ChordNote): string {
  return isSounded(row) ? fineHertz(row.realHz) : ''
}

function keysFault(text: string): string {
  const keys = readKeys(text)
  return 'fault' in keys ? keys.fault : ''
}

customElements.define('lan-chord-pane', LanChordPane)
