import type { PropertyDeclarations, PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { HouseView } from '../controllers/house-view.ts'
import { controls } from '../style/controls.ts'
import { noteName } from '../wording/note-name.ts'
import { controllerWords } from '../wording/switching-words.ts'

export type Learned = NonNullable<HouseView['learned']>

/** Asks somebody to play, then whether what was heard shall be taken: `lan-take`, `lan-again` or `lan-leave`. */
export class LanLearnOffer extends LitElement {
  static override properties: PropertyDeclarations = {
    who: {},
    heard: { attribute: false },
    outcome: {},
    wanted: {},
    isOf: { type: Boolean },
  }
  static override styles = [
    controls,
    css`
      :host {
        display: block;
        border: 1px solid var(--light);
        padding: 0.8rem;
      }
      p {
        margin: 0 0 0.6rem;
        overflow-wrap: anywhere;
      }
      .buttons {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
      }
    `,
  ]
  declare who: string
  declare heard: Learned | undefined
  /** What would be, in words. */
  declare outcome: string
  /** What to play; empty: a note on somebody's instrument. */
  declare wanted: string
  /** What was heard is of use, and can be taken. */
  declare isOf: boolean

  constructor() {
    super()
    this.who = ''
    this.outcome = ''
    this.wanted = ''
    this.isOf = true
  }

  override render(): TemplateResult {
    const { heard } = this
    return html`<div
      role="group"
      aria-label="Learning ${this.who} by playing"
      @keydown=${(event: KeyboardEvent) => event.key === 'Escape' && this.#tell('lan-leave')}
    >
      <p role="status">
        ${
          heard
            ? html`Heard ${heardWords(heard)}on ${heard.port}, channel ${heard.channel}. ${this.outcome}`
            : this.wanted || `Play a note on the instrument of ${this.who} …`
        }
      </p>
      <div class="buttons">
        ${
          heard
            ? html`${this.isOf ? html`<button class="take" @click=${() => this.#tell('lan-take')}>Take it</button>` : nothing}
                <button class="again" @click=${() => this.#tell('lan-again')}>Play again</button>`
            : ''
        }
        <button class="leave" @click=${() => this.#tell('lan-leave')}>Stop listening</button>
      </div>
    </div>`
  }

  override firstUpdated(): void {
    this.#focus()
  }

  override updated(changed: PropertyValues<this>): void {
    if (changed.has('heard')) this.#focus()
  }

  /** Enter takes what was heard: the button for it has the focus. */
  #focus(): void {
    this.renderRoot
      .querySelector<HTMLElement>(this.heard ? (this.isOf ? '.take' : '.again') : '.leave')
      ?.focus()
  }

  #tell(what: 'lan-take' | 'lan-again' | 'lan-leave'): void {
    this.dispatchEvent(new Event(what))
  }
}

function heardWords({ key, controller, program }: Learned): string {
  if (key !== undefined) return `key ${key} (${noteName(key)}) `
  if (program !== undefined) return `program change ${program} `
  return controller === undefined ? '' : `${controllerWords(controller)} `
}

customElements.define('lan-learn-offer', LanLearnOffer)
