import type { PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import { controls } from '../style/controls.ts'

/** The code of the host was typed. */
export class CodeEvent extends Event {
  static readonly type = 'lan-code'
  readonly code: string

  constructor(code: string) {
    super(CodeEvent.type, { bubbles: true, composed: true })
    this.code = code
  }
}

declare global {
  interface HTMLElementEventMap {
    'lan-code': CodeEvent
  }
}

/** Where another device comes in: the code that the host shows, and how long until another try is heard. */
export class LanEntryDoor extends LitElement {
  static override properties = {
    refusal: { attribute: false },
    isChecking: { type: Boolean },
    left: { state: true },
  }
  static override styles = [
    controls,
    css`
      :host {
        display: grid;
        place-items: center;
        padding: 2rem;
      }
      form {
        display: grid;
        gap: 1rem;
        width: min(34rem, 100%);
        padding: 2rem;
        justify-items: start;
      }
      h1 {
        font-size: 2.5rem;
        font-style: italic;
      }
      p {
        margin: 0;
      }
      label {
        display: grid;
        gap: 0.35rem;
        font-size: 1.125rem;
      }
      input {
        width: 12ch;
        font-size: 2rem;
        letter-spacing: 0.12em;
        font-variant-numeric: tabular-nums;
      }
      button {
        min-width: 9rem;
        font-size: 1.25rem;
      }
      .wait {
        min-height: 1.4em;
      }
    `,
  ]
  /** Why the last try was not let in, and for how many milliseconds no other is heard. */
  declare refusal: { readonly message: string; readonly again: number } | undefined
  declare isChecking: boolean
  /** Seconds left of it. */
  declare left: number
  #until = 0
  #timer: ReturnType<typeof setInterval> | undefined

  constructor() {
    super()
    this.refusal = undefined
    this.isChecking = false
    this.left = 0
  }

  #wait(again: number): void {
    clearInterval(this.#timer)
    this.#until = performance.now() + again
    this.#tick()
    if (this.left > 0) this.#timer = setInterval(() => this.#tick(), 250)
  }

  override render(): TemplateResult {
    const isWaiting = this.left > 0
    return html`<form class="label" @submit=${(event: SubmitEvent) => this.#submit(event)}>
      <h1>Come in</h1>
      <p>This show is played on another machine. Its screen shows a code, under "Second screen".</p>
      <p role="alert">${this.refusal?.message ?? ''}</p>
      <label
        >The code
        <input
          name="code"
          autocomplete="one-time-code"
          autocapitalize="characters"
          spellcheck="false"
          maxlength="20"
          required
      /></label>
      <button ?disabled=${isWaiting || this.isChecking}>Enter</button>
      <p class="wait soft">
        ${isWaiting ? `Another try is heard in ${this.left} s.` : this.isChecking ? 'Asking the host' : ''}
      </p>
    </form>`
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('refusal')) this.#wait(this.refusal?.again ?? 0)
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    clearInterval(this.#timer)
  }

  #tick(): void {
    this.left = Math.max(0, Math.ceil((this.#until - performance.now()) / 1000))
    if (this.left === 0) clearInterval(this.#timer)
  }

  #submit(event: SubmitEvent): void {
    event.preventDefault()
    const code = this.renderRoot.querySelector('input')?.value.trim() ?? ''
    if (code !== '') this.dispatchEvent(new CodeEvent(code))
  }
}

customElements.define('lan-entry-door', LanEntryDoor)
