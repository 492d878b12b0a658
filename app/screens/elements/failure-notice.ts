import type { TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import { copyText } from '../controllers/copy-text.ts'
import type { Word } from '../controllers/house-view.ts'
import { controls } from '../style/controls.ts'

/** A file that could not be opened, saved or read as a show: the whole of what is wrong with it, until somebody closes it. */
export class LanFailureNotice extends LitElement {
  static override properties = {
    failures: { attribute: false },
    closed: { state: true },
    copied: { state: true },
  }
  static override styles = [
    controls,
    css`
      section {
        display: grid;
        gap: 0.5rem;
        padding: 0.6rem 1.25rem;
        background: var(--pane-raised);
        border-bottom: 2px solid var(--grave);
      }
      h2 {
        font: 700 1.25rem var(--plate-sans);
      }
      h2 span {
        color: var(--grave);
      }
      pre {
        margin: 0;
        max-height: 24vh;
        overflow: auto;
        padding: 0.5rem 0.75rem;
        border: 1px solid var(--bar-strong);
        background: var(--ground);
        font-family: inherit;
        white-space: pre-wrap;
        overflow-wrap: anywhere;
        user-select: text;
        outline-offset: -3px;
      }
      div {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem 1rem;
        align-items: center;
      }
      p {
        margin: 0;
      }
    `,
  ]
  /** Latest last. */
  declare failures: readonly Word[]
  /** Count of the last one that was closed. */
  declare private closed: number
  declare private copied: string

  constructor() {
    super()
    this.failures = []
    this.closed = 0
    this.copied = ''
  }

  override render(): TemplateResult {
    const open = this.failures.filter(({ count }) => count > this.closed)
    const last = open.at(-1)
    return html`<p class="unseen" role="alert">${last ? `It did not work: ${last.source}` : ''}</p>
      ${last ? this.#notice(last, open.length - 1) : nothing}`
  }

  #notice({ source, message, count }: Word, others: number): TemplateResult {
    return html`<section aria-labelledby="what">
      <h2 id="what"><span>It did not work:</span> ${source}</h2>
      <pre tabindex="0" aria-labelledby="what">${message}</pre>
      <div>
        <button @click=${() => void (this.closed = count)}>
          Close${others > 0 ? `, also ${others} before` : ''}
        </button>
        <button @click=${() => void this.#copy(message)}>Copy the text</button>
        <p role="status">${this.copied}</p>
        <p class="soft">Everything else is as it was.</p>
      </div>
    </section>`
  }

  async #copy(text: string): Promise<void> {
    const isDone = await copyText(text, this.renderRoot)
    this.copied = isDone ? 'Copied.' : 'This page may not copy; select the text and copy it by hand.'
  }
}

customElements.define('lan-failure-notice', LanFailureNotice)
