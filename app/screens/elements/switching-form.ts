import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { Show } from '../../../src/domain/show.ts'
import type { Control, EnterAt } from '../../../src/domain/switching.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { propose } from '../controllers/edit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import type { LearnController } from '../controllers/learn-controller.ts'
import {
  addControl,
  changeControl,
  freshControl,
  setShowEnterAt,
  withGesture,
} from '../songs/control-edits.ts'
import { learnedControl } from '../songs/learned-control.ts'
import { controls } from '../style/controls.ts'
import { ENTER_AT_WORDS, gestureWords } from '../wording/switching-words.ts'
import './control-form.ts'
import type { Learned } from './learn-offer.ts'
import './learn-offer.ts'
import './select-field.ts'

const NEW = 'new'

/** How the show goes from song to song: when they begin, and what players do for it. Tells edits (`lan-edit`). */
export class LanSwitchingForm extends LitElement {
  static override properties: PropertyDeclarations = {
    show: { attribute: false },
    fault: { attribute: false },
    learner: { attribute: false },
    learning: { attribute: false },
    heard: { attribute: false },
    open: { state: true },
  }
  static override styles = [
    controls,
    css`
      :host {
        display: block;
      }
      p {
        margin: 0 0 0.7rem;
        max-width: 70ch;
      }
      h3 {
        margin: 1.2rem 0 0.5rem;
      }
      ol {
        list-style: none;
        margin: 0 0 0.9rem;
        padding: 0;
        display: grid;
        gap: 0.75rem;
        grid-template-columns: repeat(auto-fill, minmax(min(100%, 26rem), 1fr));
      }
      li {
        border: 1px solid var(--bar);
        padding: 0.9rem;
        min-width: 0;
      }
      .row {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
      }
      lan-learn-offer {
        margin: 0.8rem 0;
      }
      .fault {
        color: var(--grave);
      }
    `,
  ]
  declare show: Show
  declare fault: { readonly where: string; readonly message: string } | undefined
  declare learner: LearnController
  /** What it listens for, and what it heard; beside it so that their change is seen. */
  declare learning: string | undefined
  declare heard: Learned | undefined
  /** The place of the control whose fields are shown, from 1. */
  declare private open: number | undefined
  readonly #lock = new LockController(this)

  override render(): TemplateResult {
    const { switching } = this.show
    const fresh = freshControl(this.show)
    return html`<lan-select-field
        label="Songs begin, once asked for"
        hint="A song that says otherwise goes by its own. Beats and bars are counted from when the song that plays began."
        fault=${this.#faultAt('enterAt')}
        .value=${switching.enterAt}
        .choices=${Object.entries(ENTER_AT_WORDS).map(([value, text]) => ({ value, text }))}
        @lan-commit=${(event: CommitEvent<EnterAt>) => propose(this, 'enterAt', setShowEnterAt(event.value))}
      ></lan-select-field>
      <h3>Controls</h3>
      <p class="soft">What a player does here is not played: it changes songs, or darkens.</p>
      ${switching.controls.length === 0 ? html`<p>None yet: songs are changed on these screens.</p>` : nothing}
      <ol>
        ${switching.controls.map((control, at) => this.#control(control, at + 1))}
      </ol>
      ${this.#faultAt('controls') ? html`<p class="fault" role="alert">${this.#faultAt('controls')}</p>` : nothing}
      ${this.learning === NEW ? this.#offer(NEW, undefined) : nothing}
      <div class="row">
        <button
          class="new"
          ?disabled=${this.#lock.isOn || this.learning === NEW}
          @click=${() => this.learner.start(NEW)}
        >
          Add a control by playing
        </button>
        <button ?disabled=${this.#lock.isOn || !fresh} @click=${() => fresh && this.#add(fresh)}>
          Add a control
        </button>
      </div>`
  }

  #control(control: Control, place: number): TemplateResult {
    const who = `control ${place}`
    return html`<li>
      <lan-control-form
        .show=${this.show}
        .control=${control}
        .place=${place}
        .fault=${this.#faultAt(who)}
        .isOpen=${this.open === place}
        @lan-open=${() => void (this.open = this.open === place ? undefined : place)}
        @lan-learn=${() => this.learner.start(who)}
      ></lan-control-form>
      ${this.learning === who ? this.#offer(who, control) : nothing}
    </li>`
  }

  #offer(who: string, control: Control | undefined): TemplateResult {
    const { heard, show } = this
    const found = heard && learnedControl(show, heard)
    const outcome = !found
      ? ''
      : 'why' in found
        ? found.why
        : `Then ${found.player.name} does it: ${gestureWords(found.on, found.player.kind)}.`
    return html`<lan-learn-offer
      .who=${control ? who : 'a new control'}
      .wanted=${'Press the pad, key or pedal, or send the program change …'}
      .heard=${heard}
      .outcome=${outcome}
      .isOf=${found === undefined || !('why' in found)}
      @lan-take=${() => this.#take(who, control)}
      @lan-again=${() => this.learner.again()}
      @lan-leave=${() => this.#leave(who)}
    ></lan-learn-offer>`
  }

  #add(control: Control): void {
    this.open = this.show.switching.controls.length + 1
    propose(this, 'controls', addControl(control))
  }

  #take(who: string, control: Control | undefined): void {
    const found = this.heard && learnedControl(this.show, this.heard)
    if (found && !('why' in found)) {
      const { player, on } = found
      const learned = { player: player.id, on, do: 'next' } as const
      if (!control) propose(this, 'controls', addControl(learned))
      else propose(this, who, changeControl(control, { ...withGesture(control, on), player: player.id }))
    }
    this.#leave(who)
  }

  /** The focus goes back to where the learning began. */
  #leave(who: string): void {
    this.learner.end()
    const place = Number(who.split(' ')[1])
    void this.updateComplete.then(async () => {
      await this.updateComplete
      const form = this.renderRoot.querySelectorAll('lan-control-form')[place - 1]
      const from = form?.shadowRoot ?? this.renderRoot
      from.querySelector<HTMLElement>(form ? '.learn' : '.new')?.focus()
    })
  }

  #faultAt(where: string): string {
    return this.fault?.where === where ? this.fault.message : ''
  }
}

customElements.define('lan-switching-form', LanSwitchingForm)
