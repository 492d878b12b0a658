import type { PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { TakeChecks } from '../checks/take-rows.ts'
import { ask } from '../controllers/ask-event.ts'
import { copyText } from '../controllers/copy-text.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { PageOffer, pageLink } from '../controllers/page-offer.ts'
import { controls } from '../style/controls.ts'

type Notices = NonNullable<TakeChecks['notices']>

const NOTICES: readonly (readonly [keyof Notices, string])[] = [
  ['audience', 'For the audience, to be read before coming in'],
  ['venue', 'For the venue'],
]

/** What goes out of the house before a gig: the page for the venue, made by the host and offered as a file, and both notices to be copied. */
export class LanGigPapers extends LitElement {
  static override properties = {
    venue: { attribute: false },
    notices: { attribute: false },
    isReached: { type: Boolean },
    date: { state: true },
    copied: { state: true },
  }
  static override styles = [
    controls,
    pageLink,
    css`
      :host {
        display: grid;
        gap: 1.2rem;
        min-width: 0;
      }
      p {
        margin: 0;
        max-width: 70ch;
      }
      .row {
        display: flex;
        flex-wrap: wrap;
        gap: 0.75rem 1rem;
        align-items: flex-end;
      }
      .row p {
        align-self: center;
      }
      label {
        display: grid;
        gap: 0.2em;
        color: var(--paper-soft);
        font-size: 0.875rem;
      }
      label input {
        color: var(--paper);
        color-scheme: dark;
        font-size: 1rem;
      }
      pre {
        margin: 0.4rem 0 0.7rem;
        padding: 0.8rem 1rem;
        border: 1px solid var(--bar);
        max-width: 80ch;
        max-height: 24rem;
        overflow: auto;
        white-space: pre-wrap;
        overflow-wrap: anywhere;
        font: inherit;
      }
    `,
  ]
  declare venue: HouseView['venue']
  declare notices: Notices | null
  declare isReached: boolean
  /** Year-month-day; empty: today. */
  declare private date: string
  declare private copied: string
  readonly #page = new PageOffer(this)

  constructor() {
    super()
    this.venue = undefined
    this.notices = null
    this.isReached = false
    this.date = ''
    this.copied = ''
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('notices')) this.copied = ''
    if (changed.has('venue')) this.#page.see(this.venue)
  }

  override render(): TemplateResult {
    const { venue, notices } = this
    const page = this.#page
    const name = venue?.name ?? ''
    return html`<p class="soft">
        What a venue is told: figures of this show and of its takes, what nobody knows, who makes it dark, a
        notice for the audience and the cautions, as a page to be printed.
      </p>
      <div class="row">
        <label
          >Date on the page
          <input
            type="date"
            .value=${this.date}
            @change=${(event: Event) => (this.date = (event.target as HTMLInputElement).value)}
        /></label>
        <button ?disabled=${!this.isReached} @click=${() => this.#ask()}>
          ${page.isMade ? 'Make the page anew' : 'Make the page for the venue'}
        </button>
        ${page.link(name, `${name}.html`)}
        <p role="status">${this.#status()}</p>
      </div>
      ${page.advice()}
      ${notices ? NOTICES.map(([which, heading]) => this.#notice(heading, notices[which])) : nothing}`
  }

  #status(): string {
    if (this.#page.isAsked) return 'Asked the host for it. Takes are counted first, which may take a while.'
    return this.#page.isMade ? 'It is made.' : ''
  }

  #notice(heading: string, text: string): TemplateResult {
    return html`<div>
      <h3>${heading}</h3>
      <pre tabindex="0">${text}</pre>
      <div class="row">
        <button aria-label="Copy: ${heading}" @click=${() => void this.#copy(heading, text)}>Copy</button>
        <p role="status">${this.copied.startsWith(heading) ? this.copied.slice(heading.length) : ''}</p>
      </div>
    </div>`
  }

  async #copy(heading: string, text: string): Promise<void> {
    const isDone = await copyText(text, this.renderRoot)
    this.copied = heading + (isDone ? 'Copied.' : 'Not copied: this browser does not let a page do it.')
  }

  #ask(): void {
    this.#page.ask(this.venue)
    ask(this, { type: 'ask-venue', ...(this.date === '' ? {} : { date: this.date }) })
  }
}

customElements.define('lan-gig-papers', LanGigPapers)
