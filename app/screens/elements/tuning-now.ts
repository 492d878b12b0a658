import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import { ask } from '../controllers/ask-event.ts'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'

/** The tuning in which the song plays now, and keys to go on in another: that is playing, and no change of the show. */
export class LanTuningNow extends LitElement {
  static override properties: PropertyDeclarations = {
    show: { attribute: false },
    song: { attribute: false },
    tuned: { attribute: false },
    isForAll: { state: true },
  }
  static override styles = [
    controls,
    plate,
    css`
      p {
        margin: 0 0 0.75rem;
        overflow-wrap: anywhere;
      }
      fieldset {
        border: 0;
        margin: 0;
        padding: 0;
        min-width: 0;
      }
      legend {
        padding: 0;
        margin-bottom: 0.3rem;
        color: var(--paper-soft);
        font-size: 0.875rem;
      }
      .keys {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
      }
      .two {
        display: flex;
        flex-wrap: wrap;
        gap: 1rem 2rem;
      }
      em {
        font-family: var(--plate-serif);
      }
    `,
  ]
  declare show: Show
  /** That plays. */
  declare song: Song | undefined
  /** Null: its own. */
  declare tuned: string | null
  /** A change is for what sounds as well. */
  declare private isForAll: boolean

  constructor() {
    super()
    this.tuned = null
    this.isForAll = false
  }

  override render(): TemplateResult {
    const { song, tuned, show, isForAll } = this
    if (!song) return html`<p class="margin">No song plays.</p>`
    const own = song.parts.filter(({ tuning }) => tuning !== undefined).map(({ id }) => id)
    return html`<p role="status">
        <em>${song.title}</em> plays in
        <strong>${tuned ?? song.tuning}</strong
        >${tuned === null ? ', its own tuning' : `; its own is ${song.tuning}`}.
      </p>
      <div class="two">
        <fieldset>
          <legend>Go on in</legend>
          <div class="keys">
            <button aria-pressed=${tuned === null} @click=${() => this.#tune(null)}>
              Its own: ${song.tuning}
            </button>
            ${show.tunings.map(({ id }) =>
              id === song.tuning
                ? nothing
                : html`<button aria-pressed=${tuned === id} @click=${() => this.#tune(id)}>${id}</button>`,
            )}
          </div>
        </fieldset>
        <fieldset>
          <legend>Changes</legend>
          <div class="keys">
            <button aria-pressed=${!isForAll} @click=${() => (this.isForAll = false)}>Notes to come</button>
            <button aria-pressed=${isForAll} @click=${() => (this.isForAll = true)}>
              What sounds as well
            </button>
          </div>
        </fieldset>
      </div>
      ${
        own.length === 0
          ? nothing
          : html`<p class="margin">Parts with a tuning of their own stay in it: ${own.join(', ')}.</p>`
      }
      <p class="margin">Until the next song begins. The show stays as it is.</p>`
  }

  #tune(tuning: string | null): void {
    ask(this, { type: 'tune', tuning, retune: this.isForAll })
  }
}

customElements.define('lan-tuning-now', LanTuningNow)
