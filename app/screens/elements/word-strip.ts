import type { TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { PortStatus } from '../../../src/contract/from-engine.ts'
import type { HouseView, Word } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import { openPane } from '../controllers/pane-event.ts'
import { controls } from '../style/controls.ts'
import { gravest, LEVEL_NAMES, unread } from '../wording/gravest.ts'
import { sentence } from '../wording/sentence.ts'
import { portState, portTroubles } from '../wording/port-words.ts'

/** What went wrong and has not been read: the gravest word, how many there are, and always the ports that are not as they should be. */
export class LanWordStrip extends LitElement {
  static override properties = { view: { attribute: false }, read: { type: Number } }
  static override styles = [
    controls,
    css`
      :host {
        display: flex;
        gap: 0.75rem;
        align-items: center;
        min-width: 0;
      }
      div {
        flex: 1 1 0;
        min-width: 0;
      }
      p {
        margin: 0;
        font-size: 1.125rem;
        line-height: 1.25;
        display: -webkit-box;
        -webkit-box-orient: vertical;
        -webkit-line-clamp: 2;
        overflow: hidden;
        overflow-wrap: anywhere;
      }
      p + p {
        -webkit-line-clamp: 1;
      }
      .fault b {
        color: var(--grave);
      }
      .warning b,
      .port b {
        color: var(--warn);
      }
      .info b {
        color: var(--calm);
      }
      button {
        flex: none;
      }
    `,
  ]
  declare view: HouseView
  /** Count of the last word that was read. */
  declare read: number

  constructor() {
    super()
    this.view = NOTHING_YET
    this.read = 0
  }

  override render(): TemplateResult {
    const words = unread(this.view, this.read)
    const word = gravest(words)
    const troubles = portTroubles(this.view)
    const isMuch = word !== undefined && troubles.length > 0
    return html`<div class=${isMuch ? 'much' : nothing}>
        ${this.#ports(troubles)}${word ? this.#word(word) : nothing}
      </div>
      <p class="unseen" role="status">${word?.level === 'fault' ? `Fault: ${word.message}` : ''}</p>
      ${
        this.view.words.length > 0 || troubles.length > 0
          ? html`<button @click=${() => openPane(this, 'words')}>
              ${words.length > 0 ? `New words: ${words.length}` : 'All words'}
            </button>`
          : nothing
      }`
  }

  #ports([first, ...others]: readonly PortStatus[]): TemplateResult | typeof nothing {
    if (!first) return nothing
    const rest = others.length > 0 ? html` And ${others.map(({ name }) => name).join(', ')}.` : nothing
    return html`<p class="port"><b>${first.name}: ${portState(first.state)}.</b> ${first.message}.${rest}</p>`
  }

  #word({ level, source, message }: Word): TemplateResult {
    return html`<p class=${level}><b>${LEVEL_NAMES[level]}, ${source}.</b> ${sentence(message)}</p>`
  }
}

customElements.define('lan-word-strip', LanWordStrip)
