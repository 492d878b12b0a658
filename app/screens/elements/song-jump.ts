import type { TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { Show } from '../../../src/domain/show.ts'
import { ask } from '../controllers/ask-event.ts'
import { controls } from '../style/controls.ts'
import { songOf } from '../stage/song-place.ts'

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
    const { songs, setList } = this.show
    const others = songs.filter(({ id }) => !setList.includes(id))
    return html`<ol aria-label="Set list">
        ${setList.map((id, position) => this.#song(id, position))}
      </ol>
      ${
        others.length > 0
          ? html`<h2 id="others">Not in the set list</h2>
              <ul aria-labelledby="others">
                ${others.map(({ id }) => this.#song(id, null))}
              </ul>`
          : ''
      }`
  }

  #song(id: string, position: number | null): TemplateResult {
    const isPlaying = id === this.playing && position === this.position
    return html`<li>
      <button aria-current=${isPlaying ? 'true' : nothing} @click=${() => this.#go(id, position)}>
        <span class="figures">${position === null ? '' : position + 1}</span>
        <span>${songOf(this.show, id)?.title ?? id}</span>
      </button>
    </li>`
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
