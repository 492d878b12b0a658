import type { TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { TimeWord } from '../controllers/house-view.ts'
import { ask } from '../controllers/ask-event.ts'
import { controls } from '../style/controls.ts'
import { tempo } from '../wording/figures.ts'

/** How the song's beats go: tempo, bar and beat, whose clock it is; and for a song with its own tempo, a key to tap it and one to stop and start its beats. */
export class LanSongTime extends LitElement {
  static override properties = {
    time: { attribute: false },
    bar: { type: Number },
  }
  static override styles = [
    controls,
    css`
      :host {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.3rem 0.75rem;
        font-size: 1.125rem;
      }
      .figures {
        font-variant-numeric: tabular-nums;
      }
      .at {
        font-size: 1.375rem;
        font-weight: 700;
      }
    `,
  ]
  declare time: TimeWord | undefined
  /** Beats a bar. */
  declare bar: number

  constructor() {
    super()
    this.time = undefined
    this.bar = 4
  }

  override render(): TemplateResult | typeof nothing {
    const { time } = this
    if (!time) return nothing
    return html`<span class="figures">${time.isFollowed ? 'about ' : ''}${tempo(time.tempo)} a minute</span>
      <span class="figures at">${this.#place(time)}</span>
      ${time.isFollowed ? html`<span>${followed(time)}</span>` : this.#keys(time)}`
  }

  /** Bars and beats are counted from 1. */
  #place({ beat, isRunning, isQuiet }: TimeWord): string {
    if (isQuiet) return 'no clock comes'
    const bar = Math.floor(beat / this.bar)
    const place = `bar ${bar + 1}, beat ${Math.floor(beat - bar * this.bar) + 1}`
    return isRunning ? place : `stopped at ${place}`
  }

  #keys({ isRunning }: TimeWord): TemplateResult {
    return html`<button @click=${() => ask(this, { type: 'tap' })}>Tap tempo</button>
      <button @click=${() => ask(this, { type: 'beats', do: isRunning ? 'stop' : 'go-on' })}>
        ${isRunning ? 'Stop beats' : 'Go on'}
      </button>
      <button @click=${() => ask(this, { type: 'beats', do: 'start' })}>From beat 1</button>`
  }
}

function followed({ isQuiet, isRunning }: TimeWord): string {
  if (isQuiet) return 'a clock is followed'
  return isRunning ? 'by the clock that is followed' : 'by whoever sends the clock'
}

customElements.define('lan-song-time', LanSongTime)

declare global {
  interface HTMLElementTagNameMap {
    'lan-song-time': LanSongTime
  }
}
