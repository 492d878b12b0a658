import type { TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { Show } from '../../../src/domain/show.ts'
import { ask } from '../controllers/ask-event.ts'
import { controls } from '../style/controls.ts'
import { notInOrder, runningOrder } from '../songs/running-order.ts'
import type { Song } from '../../../src/domain/song.ts'

/** The set list, and songs that are not in it, to go to at once. Behind one button, out of the way until it is wanted. */
export class LanSongJump extends LitElement {
  static override properties = {
    show: { attribute: false },
    playing: {},
    position: { attribute: false },
    isOpen: { state: true },
  }
  static override styles = [
    controls,
    css`
      :host {
        position: relative;
        display: block;
      }
      .opener {
        width: 100%;
        height: 60px;
        font-size: 1.25rem;
        padding-inline: 0.4em;
      }
      .list {
        position: absolute;
        z-index: 1;
        top: calc(100% + 6px);
        right: 0;
        width: 24rem;
        max-width: 90vw;
        max-height: 60vh;
        overflow: auto;
        padding: 0.75rem;
        background: var(--pane);
        border: 1px solid var(--bar-strong);
      }
      .list[hidden] {
        display: none;
      }
      h2 {
        font-size: 1.125rem;
        padding: 0.25rem 0;
      }
      ol,
      ul {
        margin: 0 0 0.5rem;
        padding: 0;
        list-style: none;
      }
      li button {
        display: flex;
        gap: 0.75em;
        width: 100%;
        text-align: left;
        border-color: var(--bar);
        background: none;
        font-size: 1.25rem;
        font-family: var(--plate-serif);
        font-style: italic;
      }
      li button[aria-current] {
        border-left: 4px solid var(--light);
        background: var(--pane-raised);
      }
      li ul {
        margin: 0;
      }
      small {
        font: 0.9375rem var(--plate-sans);
        color: var(--paper-soft);
      }
      .figures {
        font-family: var(--plate-sans);
        font-style: normal;
        min-width: 1.5em;
        text-align: right;
      }
    `,
  ]
  declare show: Show
  declare playing: string
  declare position: number | null
  declare isOpen: boolean

  constructor() {
    super()
    this.playing = ''
    this.position = null
    this.isOpen = false
  }

  override render(): TemplateResult {
    return html`<div
      @keydown=${(event: KeyboardEvent) => this.#key(event)}
      @focusout=${(event: FocusEvent) => this.#left(event)}
    >
      <button
        class="opener"
        aria-expanded=${this.isOpen}
        aria-controls="list"
        @click=${() => {
          this.isOpen = !this.isOpen
        }}
      >
        Set list
      </button>
      <div id="list" class="list" ?hidden=${!this.isOpen}>${this.isOpen ? this.#list() : ''}</div>
    </div>`
  }

  #list(): TemplateResult {
    const order = runningOrder(this.show, undefined, undefined)
    const others = notInOrder(this.show)
    return html`<ol aria-label="Set list">
        ${order.map(
          ({ song, place, variants }) =>
            html`<li>
              ${this.#song(song, place)}
              ${
                variants.length > 0
                  ? html`<ul aria-label="Variants of ${song.title}">
                      ${variants.map((one) => html`<li>${this.#song(one, place, true)}</li>`)}
                    </ul>`
                  : nothing
              }
            </li>`,
        )}
      </ol>
      ${
        others.length > 0
          ? html`<h2 id="others">Not in the set list</h2>
              <ul aria-labelledby="others">
                ${others.map((one) => html`<li>${this.#song(one, null)}</li>`)}
              </ul>`
          : ''
      }`
  }

  #song({ id, title, skip }: Song, position: number | null, isVariant = false): TemplateResult {
    const isPlaying = id === this.playing && position === this.position
    return html`<button aria-current=${isPlaying ? 'true' : nothing} @click=${() => this.#go(id, position)}>
      <span class="figures">${position === null ? '' : isVariant ? 'or' : position + 1}</span>
      <span>${title}${skip && !isVariant ? html` <small>not tonight</small>` : nothing}</span>
    </button>`
  }

  #go(song: string, position: number | null): void {
    ask(this, { type: 'song', song, ...(position === null ? {} : { position }) })
    this.#close()
  }

  #close(): void {
    this.isOpen = false
    this.renderRoot.querySelector<HTMLElement>('.opener')?.focus()
  }

  #key(event: KeyboardEvent): void {
    if (event.key !== 'Escape' || !this.isOpen) return
    event.preventDefault()
    this.#close()
  }

  #left({ relatedTarget }: FocusEvent): void {
    if (relatedTarget instanceof Node && this.renderRoot.contains(relatedTarget)) return
    this.isOpen = false
  }
}

customElements.define('lan-song-jump', LanSongJump)
