import type { TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import { ask } from '../controllers/ask-event.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import type { Room } from '../controllers/room-controller.ts'
import { roomHref } from '../controllers/room-controller.ts'
import { controls } from '../style/controls.ts'

/** Lines above the room: how it stands with host and engine, the cautions until they are read, and that the demo is one. */
export class LanHouseNotice extends LitElement {
  static override properties = { view: { attribute: false }, room: {} }
  static override styles = [
    controls,
    css`
      p {
        display: flex;
        flex-wrap: wrap;
        gap: 0.25rem 1rem;
        align-items: center;
        margin: 0;
        padding: 0.15rem 1.25rem;
        border-bottom: 1px solid var(--bar);
      }
      .grave {
        background: var(--pane-raised);
        border-bottom: 2px solid var(--grave);
        font-size: 1.25rem;
        padding-block: 0.6rem;
      }
      .waiting {
        background: var(--pane-raised);
        border-bottom: 2px solid var(--warn);
        font-size: 1.25rem;
        padding-block: 0.6rem;
      }
      .lock {
        background: var(--pane-raised);
        border-bottom-color: var(--bar-strong);
        font-size: 1.125rem;
      }
      .file,
      .ways {
        font-size: 1rem;
      }
      .file {
        border-bottom: 0;
        padding-bottom: 0.2rem;
      }
      .ways {
        padding-top: 0.2rem;
      }
      details {
        padding: 0.5rem 1.25rem;
        border-bottom: 2px solid var(--warn);
        background: var(--pane-raised);
      }
      details p {
        padding: 0.35rem 0;
        border: 0;
      }
      summary {
        font-weight: 700;
        min-height: 28px;
        cursor: pointer;
      }
      a {
        color: inherit;
        display: inline-block;
        padding: 0.2rem 0;
      }
    `,
  ]
  declare view: HouseView
  declare room: Room

  constructor() {
    super()
    this.view = NOTHING_YET
    this.room = 'stage'
  }

  override render(): TemplateResult {
    return html`<div role="status">
        ${this.#link()}${this.#engine()}${this.#lock()}${this.#unkept()}${this.#fileChanged()}
      </div>
      ${this.#fileWays()}${this.#cautions()}${this.#demo()}`
  }

  #link(): TemplateResult | typeof nothing {
    const { link, show } = this.view
    if (link === 'lost')
      return html`<p class="grave">
        Looking for the host again; the music goes on by itself. What is shown is what was last heard.
      </p>`
    return link === 'connecting' && !show ? html`<p class="waiting">Looking for the host.</p>` : nothing
  }

  #engine(): TemplateResult | typeof nothing {
    const { link, isLoaded, loadFailed, show } = this.view
    if (link !== 'open') return nothing
    if (loadFailed !== undefined) {
      const fate = isLoaded ? 'It goes on with the show as it was.' : 'Nothing is played.'
      return html`<p class="grave">
        <b>The engine could not take the show. ${fate}</b> <span>${loadFailed}</span>
      </p>`
    }
    return show && !isLoaded
      ? html`<p class="waiting">The engine is starting; nothing is played yet.</p>`
      : nothing
  }

  #lock(): TemplateResult | typeof nothing {
    if (this.view.show?.isLocked !== true) return nothing
    return html`<p class="lock">
      <b>Gig lock is on.</b> Playing, changing songs and Dark go on; nothing of the show can be changed.
    </p>`
  }

  #fileChanged(): TemplateResult | typeof nothing {
    const { fileChanged } = this.view
    if (fileChanged === null) return nothing
    return html`<p class="waiting file">
      <b>The show file is not what it was.</b> <span>${fileChanged}</span>
    </p>`
  }

  #fileWays(): TemplateResult | typeof nothing {
    const { fileChanged, show, welcome } = this.view
    if (fileChanged === null || welcome?.mayFiles !== true) return nothing
    const ways = [
      ['read-again', 'Read it again', 'What was not saved here is put by, as unsaved work.'],
      ['write-over', 'Write ours over it', 'What is in the file now is put by, as unsaved work.'],
    ] as const
    return html`<p class="waiting ways" role="group" aria-label="What becomes of the show file">
      ${ways.map(
        ([way, words, what]) =>
          html`<span>
            <button
              aria-describedby=${way}
              ?disabled=${way === 'read-again' && show?.isLocked === true}
              @click=${() => ask(this, { type: 'file-changed', do: way })}
            >
              ${words}
            </button>
            <span class="soft" id=${way}>${what}</span>
          </span>`,
      )}
    </p>`
  }

  /** What is changed would not outlive a crash. */
  #unkept(): TemplateResult | typeof nothing {
    const message = this.view.kept?.message ?? null
    if (message === null || this.view.link !== 'open') return nothing
    return html`<p class="waiting"><b>Changes are not being kept on the disk.</b> <span>${message}</span></p>`
  }

  #cautions(): TemplateResult | typeof nothing {
    const { welcome } = this.view
    if (!welcome || welcome.areCautionsRead || welcome.place === 'remote' || this.room === 'start')
      return nothing
    // Closed, so that the lamps in memory are seen; real ones stay in memory until somebody has read it.
    return html`<details>
      <summary>Caution, before real lamps are lit: read this</summary>
      ${welcome.cautions.map((caution) => html`<p>${caution}</p>`)}
      <p><button @click=${() => ask(this, { type: 'cautions-read' })}>I have read this</button></p>
    </details>`
  }

  #demo(): TemplateResult | typeof nothing {
    const { link, show } = this.view
    if (link !== 'open' || show?.isDemo !== true || this.room === 'start') return nothing
    return html`<p class="soft">
      This is the demo: players and lamps in memory.
      <a href=${roomHref('start')}>Make a show of your own</a>
    </p>`
  }
}

customElements.define('lan-house-notice', LanHouseNotice)
