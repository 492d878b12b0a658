import type { PropertyDeclarations, PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import { ask } from '../controllers/ask-event.ts'
import { propose } from '../controllers/edit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import type { HouseView } from '../controllers/house-view.ts'
import type { TextFile } from '../controllers/scale-files.ts'
import { readScaleFiles } from '../controllers/scale-files.ts'
import { controls } from '../style/controls.ts'
import { pitchesWords, pitchText } from '../tuning/pitch-text.ts'
import { addScale } from '../tuning/tuning-edits.ts'
import { fineHertz, keyWords } from '../tuning/tuning-words.ts'

/** A scale file, and the keyboard mapping that may go with it, chosen here or dropped on the room: the host reads them, then they are put into the show (`lan-edit`). */
export class LanScaleFile extends LitElement {
  static override properties: PropertyDeclarations = {
    read: { attribute: false },
    isReached: { type: Boolean },
    scl: { state: true },
    kbm: { state: true },
    wrong: { state: true },
    isAsked: { state: true },
  }
  static override styles = [
    controls,
    css`
      :host {
        display: grid;
        gap: 0.75rem;
      }
      p,
      ul {
        margin: 0;
        max-width: 70ch;
        overflow-wrap: anywhere;
      }
      .row {
        display: flex;
        flex-wrap: wrap;
        gap: 0.75rem 1.5rem;
        align-items: end;
      }
      label {
        display: grid;
        gap: 0.25rem;
        color: var(--paper-soft);
        min-width: 0;
      }
      input {
        max-width: 100%;
      }
      .pitches {
        max-height: 12rem;
        overflow: auto;
        border: 1px solid var(--bar);
        padding: 0.5rem 0.75rem;
        font-variant-numeric: tabular-nums;
      }
      .wrong {
        color: var(--grave);
      }
    `,
  ]
  declare read: HouseView['scaleRead']
  declare isReached: boolean
  declare private scl: TextFile | undefined
  declare private kbm: TextFile | undefined
  /** Why a file could not be taken at all. */
  declare private wrong: readonly string[]
  declare private isAsked: boolean
  /** The answer that was there before this one was asked for. */
  #before: HouseView['scaleRead']
  readonly #lock = new LockController(this)

  constructor() {
    super()
    this.read = undefined
    this.isReached = false
    this.wrong = []
    this.isAsked = false
  }

  /** Files of one scale: a `.scl`, a `.kbm`, or both; what is there of the other kind stays. */
  async take(files: readonly File[]): Promise<void> {
    const { scl, kbm, faults } = await readScaleFiles(files)
    this.wrong = faults
    if (scl) this.scl = scl
    if (kbm) this.kbm = kbm
    if (scl || kbm) this.#ask()
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('read') && this.read !== this.#before) this.isAsked = false
  }

  override render(): TemplateResult {
    const { scl, kbm, wrong } = this
    return html`<div class="row">
        <label>
          Scale file (.scl)
          <input
            type="file"
            accept=".scl"
            ?disabled=${!this.isReached}
            @change=${(event: Event) => this.#choose(event)}
          />
        </label>
        <label>
          Keyboard mapping (.kbm), may be left out
          <input
            type="file"
            accept=".kbm"
            ?disabled=${!this.isReached}
            @change=${(event: Event) => this.#choose(event)}
          />
        </label>
        ${
          kbm
            ? html`<button type="button" @click=${() => this.#withoutMap()}>Without ${kbm.name}</button>`
            : nothing
        }
      </div>
      <p class="soft">Both may be dropped on this room, too.</p>
      ${
        wrong.length === 0
          ? nothing
          : html`<ul class="wrong" role="alert">
              ${wrong.map((one) => html`<li>${one}</li>`)}
            </ul>`
      }
      ${kbm && !scl ? html`<p role="status">${kbm.name} waits for its scale file.</p>` : nothing}
      ${scl ? this.#answer(scl) : nothing}`
  }

  #answer(scl: TextFile): TemplateResult {
    const { read, kbm } = this
    const names = kbm ? `${scl.name} with ${kbm.name}` : scl.name
    if (this.isAsked || !read || read === this.#before) return html`<p role="status">Reading ${names}...</p>`
    const { scale, faults } = read
    return html`${
      faults.length === 0
        ? nothing
        : html`<ul class="wrong" role="alert">
            ${faults.map((fault) => html`<li>${fault}</li>`)}
          </ul>`
    }
    ${
      scale
        ? html`<p role="status">
              ${names}: <em>${scale.name || 'no description'}</em>. ${pitchesWords(scale.pitches)}
              ${keyWords(scale.refNote)} sounds ${fineHertz(scale.refHz)}
              Hz${scale.map ? ', with a key map' : ''}.
            </p>
            <p class="pitches" tabindex="0" role="group" aria-label="Pitches of ${scl.name}">
              ${scale.pitches.map(pitchText).join('  ')}
            </p>
            <div>
              <button
                type="button"
                ?disabled=${this.#lock.isOn}
                @click=${() => propose(this, 'add', addScale({ ...scale, name: scale.name || stem(scl.name) }))}
              >
                Put it into the show
              </button>
            </div>`
        : html`<p role="status">${names} cannot be read as a scale.</p>`
    }`
  }

  #choose(event: Event): void {
    const { files } = event.target as HTMLInputElement
    if (files && files.length > 0) void this.take([...files])
  }

  #withoutMap(): void {
    this.kbm = undefined
    this.#ask()
  }

  #ask(): void {
    const { scl, kbm } = this
    if (!scl) return
    this.#before = this.read
    this.isAsked = true
    ask(this, {
      type: 'read-scale',
      name: scl.name.slice(0, 400),
      scl: scl.text,
      ...(kbm ? { kbm: kbm.text } : {}),
    })
  }
}

function stem(name: string): string {
  return name.replace(/\.scl$/i, '')
}

customElements.define('lan-scale-file', LanScaleFile)
