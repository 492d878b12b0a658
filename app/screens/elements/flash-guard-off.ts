import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import { LockController } from '../controllers/gig-lock.ts'
import { controls } from '../style/controls.ts'
import { localDay } from '../wording/local-day.ts'

/** Somebody has said whether the flash guard is to be off: from which day; null: it stays on. */
export class FlashOffEvent extends Event {
  static readonly type = 'lan-flash-off'
  readonly day: string | null

  constructor(day: string | null) {
    super(FlashOffEvent.type, { bubbles: true })
    this.day = day
  }
}

declare global {
  interface HTMLElementEventMap {
    'lan-flash-off': FlashOffEvent
  }
}

/**
 * What stands between the flash guard and its being off: what that means, a tick, and only then a key. It lies in the form, not over the page: nothing may keep the
 * Dark key from being pressed.
 */
export class LanFlashGuardOff extends LitElement {
  static override properties: PropertyDeclarations = {
    of: {},
    showsDay: { attribute: false },
    isTicked: { state: true },
    today: { state: true },
  }
  static override styles = [
    controls,
    css`
      :host {
        display: block;
      }
      section {
        border: 2px solid var(--warn);
        padding: 0.8rem 0.9rem;
      }
      h3:focus {
        outline: none;
      }
      p {
        margin: 0.6rem 0;
        max-width: 70ch;
      }
      label {
        display: flex;
        gap: 0.7rem;
        align-items: center;
        min-height: var(--touch);
      }
      input {
        flex: none;
      }
      .answers {
        display: flex;
        flex-wrap: wrap;
        gap: 0.6rem;
        margin-top: 0.6rem;
      }
    `,
  ]
  /** Title of the song it is of; empty: the show. */
  declare of: string
  /** The show's guard is off since then, and the song's is to be as that. */
  declare showsDay: string | undefined
  declare private isTicked: boolean
  /** As it was when the tick was set: what the key says is what is written. */
  declare private today: string
  readonly #lock = new LockController(this)

  constructor() {
    super()
    this.of = ''
    this.showsDay = undefined
    this.isTicked = false
    this.today = localDay(new Date())
  }

  override firstUpdated(): void {
    this.renderRoot.querySelector<HTMLElement>('h3')?.focus()
  }

  override render(): TemplateResult {
    const { of, showsDay, isTicked, today } = this
    const where = of === '' ? 'in every song that has none of its own' : `in ${of}`
    return html`<section
      role="group"
      aria-labelledby="title"
      @keydown=${(event: KeyboardEvent) => this.#key(event)}
    >
      <h3 id="title" tabindex="-1">Turn the flash guard off?</h3>
      <p>
        Then nobody is told, ${where}, how often the light flashes, and nothing is held back: neither on the
        Stage nor anywhere else while it plays.
      </p>
      <p>
        Flashing light can trigger seizures. People with photosensitive epilepsy can be harmed, in the
        audience, in the crew or in the band, also people who do not know that they have it.
      </p>
      <p>
        ${
          showsDay === undefined
            ? html`It is written into the show, with today’s date, that the guard is off since ${today}, and
              the Stage says so for as long as it is.`
            : html`The show’s guard is off since ${showsDay}, and this song would be as the show. The Stage
              says so for as long as it is.`
        }
      </p>
      <label>
        <input
          type="checkbox"
          .checked=${isTicked}
          ?disabled=${this.#lock.isOn}
          @change=${(event: Event) => this.#tick((event.target as HTMLInputElement).checked)}
        />
        I have read this, and people present are told and looked after
      </label>
      <div class="answers">
        <button ?disabled=${!isTicked || this.#lock.isOn} @click=${() => this.#answer(showsDay ?? today)}>
          ${showsDay === undefined ? `Off from ${today}` : `Off as the show, since ${showsDay}`}
        </button>
        <button @click=${() => this.#answer(null)}>Leave it on</button>
      </div>
    </section>`
  }

  #tick(isTicked: boolean): void {
    this.isTicked = isTicked
    this.today = localDay(new Date())
  }

  #key(event: KeyboardEvent): void {
    if (event.key !== 'Escape') return
    event.stopPropagation()
    this.#answer(null)
  }

  #answer(day: string | null): void {
    if (day !== null && (!this.isTicked || this.#lock.isOn)) return
    this.dispatchEvent(new FlashOffEvent(day))
  }
}

customElements.define('lan-flash-guard-off', LanFlashGuardOff)

declare global {
  interface HTMLElementTagNameMap {
    'lan-flash-guard-off': LanFlashGuardOff
  }
}
