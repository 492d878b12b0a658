import type { TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { TimeWord } from '../controllers/house-view.ts'
import { ask } from '../controllers/ask-event.ts'
import { controls } from '../style/controls.ts'

/** Where the song's beats are, and whose clock they go by; and for a song with its own tempo, a key to tap it and one to stop and start its beats. */
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
        flex: none;
        align-items: center;
        gap: 0.5rem;
        white-space: nowrap;
      }
      button {
        min-height: 44px;
        padding: 0.1em 0.7em;
      }
      .at {
        min-width: 9.5em;
        font-size: 1.25rem;
        font-weight: 700;
        font-variant-numeric: tabular-nums;
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
    return html`<span class="at">${this.#place(time)}</span>
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
