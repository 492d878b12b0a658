import type { PropertyDeclarations, PropertyValues, TemplateResult } from 'lit'
import { html, LitElement, nothing } from 'lit'
import { ask } from '../controllers/ask-event.ts'
import { FindController } from '../controllers/find-controller.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import { LearnController } from '../controllers/learn-controller.ts'
import { isElsewhere } from '../controllers/view-slices.ts'
import type { Draft, DraftFault } from '../first-start/draft.ts'
import { answersOf, draftFaults, EMPTY_DRAFT } from '../first-start/draft.ts'
import { controls } from '../style/controls.ts'
import { firstStart } from '../style/first-start.ts'
import { FieldElement } from './field-element.ts'
import './find-caution.ts'
import './first-start-lamps.ts'
import './first-start-lights.ts'
import './first-start-players.ts'
import './first-start-wiring.ts'

const STEPS = ['players', 'lamps', 'wiring', 'cautions', 'light'] as const
type Step = (typeof STEPS)[number]

const STEP_WORDS: Readonly<Record<Step, { readonly short: string; readonly question: string }>> = {
  players: { short: 'Players', question: 'What plays?' },
  lamps: { short: 'Lamps', question: 'How many lamps?' },
  wiring: { short: 'Wiring', question: 'How are they wired?' },
  cautions: { short: 'Cautions', question: 'Before anything is lit' },
  light: { short: 'Light', question: 'Light the lamps' },
}
/** Which step asks for a field. */
const STEP_OF: Readonly<Record<DraftFault['field'], Step>> = {
  players: 'players',
  wiring: 'wiring',
  serialPort: 'wiring',
  midiPort: 'wiring',
  layout: 'wiring',
}
const SHOWN = ['link', 'show', 'welcome', 'listed', 'learned', 'finding', 'isLoaded', 'words'] as const

/** Answers outlive a look into another room. */
let kept: Draft = EMPTY_DRAFT

/** The first start: three questions, the cautions, and then the first lit lamps. */
export class LanFirstStart extends LitElement {
  static override properties: PropertyDeclarations = {
    view: { attribute: false },
    step: { state: true },
    draft: { state: true },
    faults: { state: true },
    hasRead: { state: true },
    making: { state: true },
  }
  static override styles = [controls, firstStart]
  declare view: HouseView
  declare private step: Step
  declare private draft: Draft
  /** Told since somebody wanted to go on. */
  declare private faults: readonly DraftFault[]
  declare private hasRead: boolean
  /** What there was when the show was asked for; undefined: it was not, or has come. */
  declare private making: { readonly show: HouseView['show']; readonly words: number } | undefined
  readonly #learner = new LearnController(this)
  readonly #finder = new FindController(this)
  #hasAsked = false

  constructor() {
    super()
    this.view = NOTHING_YET
    this.step = 'players'
    this.draft = kept
    this.faults = []
    this.hasRead = false
  }

  protected override shouldUpdate(changed: PropertyValues<this>): boolean {
    return !isElsewhere(changed, this.view, SHOWN)
  }

  protected override willUpdate(): void {
    this.#learner.see(this.view)
    this.#finder.see(this.view)
    if (this.making && this.view.show !== this.making.show) {
      this.making = undefined
      this.#goTo('light')
    }
  }

  protected override updated(changed: PropertyValues): void {
    if (this.view.link !== 'open') this.#hasAsked = false
    else if (!this.#hasAsked) {
      this.#hasAsked = true
      ask(this, { type: 'list-ports' })
    }
    if (changed.has('step') && changed.get('step') !== undefined) {
      this.renderRoot.querySelector<HTMLElement>('h2')?.focus()
    }
  }

  override render(): TemplateResult {
    const { step } = this
    return html`<div class="sheet" @keydown=${(event: KeyboardEvent) => this.#key(event)}>
      <header>
        <div class="label"><h1>First start</h1></div>
        <ol aria-label="Steps">
          ${STEPS.map(
            (one) => html`<li aria-current=${one === step ? 'step' : nothing}>${STEP_WORDS[one].short}</li>`,
          )}
        </ol>
      </header>
      <section aria-labelledby="question">
        <h2 id="question" tabindex="-1">${STEP_WORDS[step].question}</h2>
        ${this.#content()}
      </section>
      ${step === 'light' ? nothing : this.#ends()}
    </div>`
  }

  #content(): TemplateResult {
    const { draft, faults } = this
    const { listed, welcome } = this.view
    const change = (changes: Partial<Draft>): void => this.#change(changes)
    switch (this.step) {
      case 'players':
        return html`<lan-first-start-players
          .draft=${draft}
          .change=${change}
          .faults=${faults}
          .listed=${listed}
          .learner=${this.#learner}
          .learning=${this.#learner.who}
          .heard=${this.#learner.heard}
        ></lan-first-start-players>`
      case 'lamps':
        return html`<lan-first-start-lamps .draft=${draft} .change=${change}></lan-first-start-lamps>`
      case 'wiring':
        return html`<lan-first-start-wiring
          .draft=${draft}
          .change=${change}
          .faults=${faults}
          .listed=${listed}
        ></lan-first-start-wiring>`
      case 'cautions':
        return this.#cautions(welcome?.cautions ?? [])
      case 'light':
        return this.#lights()
    }
  }

  #cautions(cautions: readonly string[]): TemplateResult {
    const { show } = this.view
    return html`<div class="cautions">${cautions.map((text) => html`<p>${text}</p>`)}</div>
      <label class="read">
        <input
          type="checkbox"
          .checked=${this.hasRead}
          @change=${(event: Event) => void (this.hasRead = (event.target as HTMLInputElement).checked)}
        />
        I have read this
      </label>
      ${
        show && !show.isSaved && !show.isDemo
          ? html`<p class="over">
              “${show.show.title}” is open and has changes that are not saved. The new show takes its place:
              save it first if it shall be kept.
            </p>`
          : nothing
      }
      ${this.#trouble()}`
  }

  /** What the host said since the show was asked for. */
  #trouble(): TemplateResult | typeof nothing {
    const { making } = this
    const words = this.view.words.filter(
      ({ count, level }) => making && count > making.words && level !== 'info',
    )
    if (!making || words.length === 0) return nothing
    return html`<p class="fault" role="alert">${words.map(({ message }) => message).join(' ')}</p>`
  }

  #lights(): TemplateResult {
    const { show, finding, isLoaded } = this.view
    const lamps = show?.show.rig.lamps ?? []
    const asking = lamps.find(({ id }) => id === this.#finder.asking)
    return html`<lan-first-start-lights
        .lamps=${lamps}
        .finder=${this.#finder}
        .finding=${finding}
        .why=${this.#finder.why}
        .isVirtual=${show?.rig === 'virtual'}
        .isLoaded=${isLoaded}
      ></lan-first-start-lights>
      ${
        asking
          ? html`<lan-find-caution
              .lamp=${asking.name}
              .answer=${(isYes: boolean) => this.#finder.answer(isYes)}
            ></lan-find-caution>`
          : nothing
      }`
  }

  #ends(): TemplateResult {
    const { step } = this
    const isLast = step === 'cautions'
    return html`<div class="ends">
      ${step === 'players' ? nothing : html`<button @click=${() => this.#back()}>Back</button>`}
      <button class="on" ?disabled=${isLast && !this.hasRead} @click=${() => this.#goOn()}>
        ${isLast ? 'Make the show' : 'Go on'}
      </button>
      ${isLast && !this.hasRead ? html`<span class="soft">after “I have read this”</span>` : nothing}
    </div>`
  }

  #change(changes: Partial<Draft>): void {
    this.draft = { ...this.draft, ...changes }
    kept = this.draft
    if (this.faults.length > 0) this.faults = draftFaults(this.draft)
  }

  /** Enter in a field goes on; on a button or a choice it does what it always does. */
  #key(event: KeyboardEvent): void {
    const at = event.composedPath()[0]
    if (event.key !== 'Enter' || event.isComposing || !(at instanceof HTMLInputElement)) return
    event.preventDefault()
    this.#goOn()
  }

  #goOn(): void {
    const refusing = this.#fields().find(({ isRefusing }) => isRefusing)
    if (refusing) return refusing.focus()
    const { step } = this
    const faults = draftFaults(this.draft)
    if (faults.some(({ field }) => STEP_OF[field] === step)) {
      this.faults = faults
      return
    }
    if (step === 'cautions') return this.#make()
    const next = STEPS[STEPS.indexOf(step) + 1]
    if (next) this.#goTo(next)
  }

  #back(): void {
    const before = STEPS[STEPS.indexOf(this.step) - 1]
    if (before) this.#goTo(before)
  }

  #goTo(step: Step): void {
    this.#learner.end()
    this.faults = []
    this.step = step
  }

  #make(): void {
    if (!this.hasRead) return
    const answers = answersOf(this.draft)
    // An answer may have become wrong by a later one, such as more lamps than a layout has room for.
    if (!answers) {
      const faults = draftFaults(this.draft)
      const first = faults[0]
      if (first) this.#goTo(STEP_OF[first.field])
      this.faults = faults
      return
    }
    this.making = { show: this.view.show, words: this.view.words.at(-1)?.count ?? 0 }
    ask(this, { type: 'cautions-read' })
    ask(this, { type: 'new-show', answers })
  }

  /** The fields of this step, in their shadows. */
  #fields(): FieldElement[] {
    const found: FieldElement[] = []
    const look = (root: ParentNode): void => {
      for (const element of root.querySelectorAll('*')) {
        if (element instanceof FieldElement) found.push(element)
        else if (element.shadowRoot) look(element.shadowRoot)
      }
    }
    look(this.renderRoot as ShadowRoot)
    return found
  }
}

customElements.define('lan-first-start', LanFirstStart)
