import type { PropertyDeclarations, PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { FlashAction, FlashGuard } from '../../../src/domain/flash-guard.ts'
import { flashGuardWords } from '../../../src/domain/flash-guard.ts'
import { CommitEvent } from '../controllers/commit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import type { NumberKind } from '../rig/ranges.ts'
import { FLASH_CHOICES, GLOW_NUMBERS, LIMIT_NUMBERS, startingGuard } from '../sheet/guard-choices.ts'
import { controls } from '../style/controls.ts'
import { fieldGrid } from '../style/field-grid.ts'
import type { FlashOffEvent } from './flash-guard-off.ts'
import './flash-guard-off.ts'
import './number-field.ts'
import type { LanSelectField } from './select-field.ts'
import './select-field.ts'

const AS_THE_SHOW = 'show'
type Chosen = FlashAction | typeof AS_THE_SHOW

/**
 * The flash guard of a show, or of a song, which may be as the show. Commits the whole of it (`lan-commit`, a FlashGuard, or null: as the show). That it is to be off
 * is asked once more and commits only then.
 */
export class LanFlashGuardForm extends LitElement {
  static override properties: PropertyDeclarations = {
    value: { attribute: false },
    shows: { attribute: false },
    of: {},
    fault: {},
    asking: { state: true },
  }
  static override styles = [
    controls,
    fieldGrid,
    css`
      p,
      lan-flash-guard-off {
        grid-column: 1 / -1;
        margin: 0;
        max-width: 70ch;
      }
      .off {
        padding-left: 0.7rem;
        border-left: 3px solid var(--warn);
      }
      .off b {
        color: var(--warn);
      }
      button {
        justify-self: start;
        align-self: end;
      }
    `,
  ]
  /** Undefined: as the show. */
  declare value: FlashGuard | undefined
  /** The show's, where this is a song's; undefined: this is the show's own. */
  declare shows: FlashGuard | undefined
  /** Title of the song; empty: the show. */
  declare of: string
  declare fault: string
  /** What was chosen that would turn it off. */
  declare private asking: Chosen | undefined
  readonly #lock = new LockController(this)
  #hadFocus = false

  constructor() {
    super()
    this.value = undefined
    this.shows = undefined
    this.of = ''
    this.fault = ''
    this.asking = undefined
  }

  /** What is asked is over when the lock goes on, when it holds already, and for another song. */
  override willUpdate(changed: PropertyValues<this>): void {
    this.#hadFocus = this.shadowRoot?.activeElement instanceof HTMLElement
    const { asking } = this
    if (asking !== undefined && (this.#lock.isOn || !this.#mustAsk(asking) || changed.has('of')))
      this.asking = undefined
  }

  /** Who was asked goes on where the question came from. */
  override updated(changed: PropertyValues): void {
    if (this.#hadFocus && changed.get('asking') !== undefined && this.asking === undefined)
      this.renderRoot.querySelector<LanSelectField>('lan-select-field')?.focus()
  }

  /** It would be off, by itself or by the show, and is not in that way. */
  #mustAsk(chosen: Chosen): boolean {
    if (chosen === 'off') return this.value?.action !== 'off'
    return chosen === AS_THE_SHOW && this.shows?.action === 'off' && !this.#isOff
  }

  get #now(): FlashGuard | undefined {
    return this.value ?? this.shows
  }

  get #isOff(): boolean {
    return this.#now?.action === 'off'
  }

  override render(): TemplateResult {
    const { value, shows, asking } = this
    const chosen: Chosen = value?.action ?? AS_THE_SHOW
    return html`<lan-select-field
        label="Flash guard"
        fault=${this.fault}
        .value=${chosen}
        .choices=${[
          ...(shows ? [{ value: AS_THE_SHOW, text: 'as the show' }] : []),
          ...FLASH_CHOICES.map((one) => ({ value: one.value, text: one.text })),
        ]}
        @lan-commit=${(event: CommitEvent<string>) => this.#choose(event, event.value as Chosen)}
      ></lan-select-field>
      ${value ? this.#numbers(value) : nothing} ${this.#isOff ? this.#off() : this.#about()}
      ${
        asking === undefined
          ? nothing
          : html`<lan-flash-guard-off
              .of=${this.of}
              .showsDay=${asking === AS_THE_SHOW && shows?.action === 'off' ? shows.since : undefined}
              @lan-flash-off=${(event: FlashOffEvent) => this.#answer(asking, event.day)}
            ></lan-flash-guard-off>`
      }`
  }

  /** The show's own has all the choices told beside it. */
  #about(): TemplateResult | typeof nothing {
    const { value, shows } = this
    if (!shows) return nothing
    const about = FLASH_CHOICES.find((one) => one.value === value?.action)?.about
    return html`<p class="soft">${about ?? `The show’s flash guard ${flashGuardWords(shows)}.`}</p>`
  }

  #off(): TemplateResult {
    const now = this.#now
    return html`<p class="off">
        <b>Warning.</b> The flash guard
        ${now ? flashGuardWords(now) : ''}${this.value ? '' : ', as the show'}. Flashing light can trigger
        seizures.
      </p>
      <button ?disabled=${this.#lock.isOn} @click=${() => this.#commit({ action: 'warn' })}>
        Turn it on again
      </button>`
  }

  #numbers(value: FlashGuard): TemplateResult | typeof nothing {
    switch (value.action) {
      case 'glow':
        return html`${this.#number(GLOW_NUMBERS.seconds, value.seconds, (seconds) => ({ ...value, seconds }))}
        ${this.#number(GLOW_NUMBERS.hz, value.hz, (hz) => ({ ...value, hz }))}`
      case 'limit':
        return this.#number(LIMIT_NUMBERS.changes, value.changes, (changes) => ({ ...value, changes }))
      default:
        return nothing
    }
  }

  #number(kind: NumberKind, value: number, make: (value: number) => FlashGuard): TemplateResult {
    return html`<lan-number-field
      .label=${kind.label}
      .unit=${kind.unit ?? ''}
      .min=${kind.min ?? -Infinity}
      .max=${kind.max}
      .step=${kind.step ?? 1}
      ?whole=${kind.whole === true}
      .value=${value}
      @lan-commit=${(event: CommitEvent<number>) => {
        event.stopPropagation()
        this.#commit(make(event.value))
      }}
    ></lan-number-field>`
  }

  #choose(event: Event, chosen: Chosen): void {
    event.stopPropagation()
    if (this.#mustAsk(chosen)) this.asking = chosen
    else this.#take(chosen, '')
  }

  #answer(chosen: Chosen, day: string | null): void {
    if (day !== null) this.#take(chosen, day)
    this.asking = undefined
  }

  /** `day`: since when it is off, where it is to be. */
  #take(chosen: Chosen, day: string): void {
    this.#commit(chosen === AS_THE_SHOW ? null : startingGuard(chosen, day))
  }

  #commit(value: FlashGuard | null): void {
    this.asking = undefined
    this.dispatchEvent(new CommitEvent(value))
  }
}

customElements.define('lan-flash-guard-form', LanFlashGuardForm)

declare global {
  interface HTMLElementTagNameMap {
    'lan-flash-guard-form': LanFlashGuardForm
  }
}
