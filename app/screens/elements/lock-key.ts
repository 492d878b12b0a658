import type { PropertyDeclarations, PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import { ask } from '../controllers/ask-event.ts'
import { controls } from '../style/controls.ts'

const HELD_MS = 1_000

/**
 * The gig lock: one press locks. To unlock, a pointer holds the key for a second; keys, and whatever works like them, are asked once more. Another device locks
 * and does not unlock.
 */
export class LanLockKey extends LitElement {
  static override properties: PropertyDeclarations = {
    isLocked: { type: Boolean },
    isRemote: { type: Boolean },
    isAsking: { state: true },
    isHeld: { state: true },
  }
  static override styles = [
    controls,
    css`
      :host {
        display: block;
      }
      p {
        margin: 0;
        font-size: 0.9375rem;
        line-height: 1.2;
        padding: 0.2rem 0;
      }
      p b {
        display: block;
      }
      button {
        width: 100%;
        min-height: 44px;
        padding: 0.2em 0.6em;
        text-align: left;
        line-height: 1.15;
        touch-action: none;
        user-select: none;
        -webkit-user-select: none;
        -webkit-touch-callout: none;
      }
      button + button {
        margin-top: 0.3rem;
      }
      .held {
        border-color: var(--light);
      }
      @media (max-width: 900px) {
        button {
          height: 100%;
        }
      }
    `,
  ]
  declare isLocked: boolean
  declare isRemote: boolean
  /** Somebody pressed the key with keys, and is asked whether that was meant. */
  declare private isAsking: boolean
  declare private isHeld: boolean
  #timer: ReturnType<typeof setTimeout> | undefined
  /** The click that comes now is the end of a pointer's press. */
  #isPointer = false
  #hadFocus = false

  constructor() {
    super()
    this.isLocked = false
    this.isRemote = false
    this.isAsking = false
    this.isHeld = false
  }

  override willUpdate(changed: PropertyValues<this>): void {
    this.#hadFocus = this.shadowRoot?.activeElement instanceof HTMLElement
    if (changed.has('isLocked')) this.#letGo()
    if (changed.has('isLocked') && !this.isLocked) this.isAsking = false
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    this.#letGo()
  }

  override render(): TemplateResult {
    if (!this.isLocked) return html`<button @click=${() => this.#lock()}>Lock for the gig</button>`
    if (this.isRemote) return html`<p><b>Gig lock is on.</b> The machine that plays takes it off.</p>`
    if (this.isAsking) return this.#question()
    return html`<button
      class=${this.isHeld ? 'held' : nothing}
      aria-describedby="how"
      @pointerdown=${(event: PointerEvent) => this.#hold(event)}
      @pointerup=${() => this.#letGo()}
      @pointerleave=${() => this.#letGo()}
      @pointercancel=${() => this.#letGo()}
      @contextmenu=${(event: Event) => event.preventDefault()}
      @click=${() => this.#click()}
    >
      Unlock... <small id="how" class="soft">${this.isHeld ? 'hold on' : 'hold for a second'}</small>
    </button>`
  }

  #question(): TemplateResult {
    return html`<div
      role="group"
      aria-label="Unlock"
      @keydown=${(event: KeyboardEvent) => event.key === 'Escape' && this.#answer(false)}
    >
      <button class="yes" @click=${() => this.#answer(true)}>Yes, unlock</button>
      <button @click=${() => this.#answer(false)}>Stay locked</button>
    </div>`
  }

  override updated(changed: PropertyValues): void {
    // One key gives way to another: whoever stood on it stands on that.
    if (!this.#hadFocus || !(changed.has('isAsking') || changed.has('isLocked'))) return
    this.renderRoot.querySelector<HTMLElement>(this.isAsking ? '.yes' : 'button')?.focus()
  }

  #lock(): void {
    ask(this, { type: 'lock', locked: true })
  }

  #unlock(): void {
    ask(this, { type: 'lock', locked: false })
  }

  #hold(event: PointerEvent): void {
    if (event.button !== 0) return
    this.#isPointer = true
    this.isHeld = true
    clearTimeout(this.#timer)
    this.#timer = setTimeout(() => {
      this.#letGo()
      this.#unlock()
    }, HELD_MS)
  }

  #letGo(): void {
    clearTimeout(this.#timer)
    this.isHeld = false
  }

  /** A press of a pointer has been heard by then; a click without one is of keys, or of what works like them. */
  #click(): void {
    if (this.#isPointer) this.#isPointer = false
    else this.isAsking = true
  }

  #answer(isYes: boolean): void {
    this.isAsking = false
    if (isYes) this.#unlock()
  }
}

customElements.define('lan-lock-key', LanLockKey)
