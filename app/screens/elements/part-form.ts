import type { TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import type { StrategyForm } from '../../../src/contract/from-host.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Claim, DutySource, OnLost, Part, Song } from '../../../src/domain/song.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { propose } from '../controllers/edit-event.ts'
import { roomHref } from '../controllers/room-controller.ts'
import type { OptionEvent } from '../controllers/option-event.ts'
import type { MakeEdit } from '../sheet/edit.ts'
import { fieldsOf } from '../sheet/form-model.ts'
import { idFault } from '../sheet/new-id.ts'
import type { PartPlace } from '../sheet/part-edits.ts'
import { orderLamps, setPartField, setStrategyKind, setStrategyOption } from '../sheet/part-edits.ts'
import { controls } from '../style/controls.ts'
import { fieldGrid } from '../style/field-grid.ts'
import { formSection } from '../style/form-section.ts'
import { ownerChip, ownerMark } from '../style/owner-mark.ts'
import './claim-form.ts'
import './duty-form.ts'
import './key-field.ts'
import type { NamedLamp } from './lamps-field.ts'
import './lamps-field.ts'
import './number-field.ts'
import './option-form.ts'
import './part-pitch.ts'
import './part-place.ts'
import './select-field.ts'
import './text-field.ts'

const ON_LOST = [
  { value: 'move', text: 'what sounds there finds another, or waits' },
  { value: 'end', text: 'what sounds there ends' },
]

/** Everything about one part of a song that can be set. Tells edits (`lan-edit`); shows what the show says. */
export class LanPartForm extends LitElement {
  static override properties = {
    show: { attribute: false },
    song: { attribute: false },
    chosen: { attribute: false },
    strategies: { attribute: false },
    fault: { attribute: false },
  }
  static override styles = [
    controls,
    fieldGrid,
    formSection,
    css`
      :host {
        display: block;
      }
      .top {
        display: flex;
        justify-content: space-between;
        align-items: baseline;
        gap: 1rem;
      }
      .top a {
        color: var(--paper);
        text-underline-offset: 0.2em;
        line-height: 2;
      }
      h2 {
        font-style: italic;
        margin-bottom: 0.3rem;
        overflow-wrap: anywhere;
      }
      p {
        margin: 0.3rem 0;
      }
      lan-option-form {
        margin-top: 0.8rem;
      }
    `,
  ]
  declare show: Show
  declare song: Song
  declare chosen: Part
  declare strategies: readonly StrategyForm[]
  /** Of the last edit. */
  declare fault: { readonly where: string; readonly message: string } | undefined

  override render(): TemplateResult {
    const { chosen: part, show } = this
    const mark = ownerMark(show.players, part.player)
    return html`<div class="top">
        <h2 tabindex="-1">${part.id}</h2>
        <a href=${roomHref('sheet', this.song.id)}>Close the part</a>
      </div>
      <p class="soft">
        ${ownerChip(mark, `${show.players.find(({ id }) => id === part.player)?.name ?? part.player}`)}
      </p>
      ${this.#identity()} ${this.#strategy()} ${this.#lamps()} ${this.#notes()}
      <lan-part-pitch .show=${show} .song=${this.song} .chosen=${part} .fault=${this.fault}></lan-part-pitch>
      ${this.#light()}
      <section>
        <h3>Place in the sheet</h3>
        <lan-part-place .song=${this.song} .chosen=${part} fault=${this.#faultAt('place')}></lan-part-place>
      </section>`
  }

  /** To where the form begins, once it is shown. */
  override focus(): void {
    void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>('h2')?.focus())
  }

  get #place(): PartPlace {
    return { song: this.song.id, part: this.chosen.id }
  }

  #faultAt(where: string): string {
    return this.fault?.where === `part.${where}` ? this.fault.message : ''
  }

  #edit(where: string, make: MakeEdit): void {
    propose(this, `part.${where}`, make)
  }

  #set(where: keyof Part & string, value: unknown, called?: string): void {
    this.#edit(where, setPartField(this.#place, where, value, called))
  }

  #identity(): TemplateResult {
    const { chosen: part, show, song } = this
    const taken = song.parts.filter((other) => other !== part).map(({ id }) => id)
    return html`<section>
      <h3>Who plays</h3>
      <div class="fields">
        <lan-text-field
          label="Name of the part"
          fault=${this.#faultAt('id')}
          .longest=${64}
          .check=${(text: string) => idFault(text, taken)}
          .value=${part.id}
          @lan-commit=${(event: CommitEvent<string>) => this.#set('id', event.value, 'Name')}
        ></lan-text-field>
        <lan-select-field
          label="Player"
          fault=${this.#faultAt('player')}
          .value=${part.player}
          .choices=${show.players.map(({ id, name }) => ({ value: id, text: name }))}
          @lan-commit=${(event: CommitEvent<string>) => this.#set('player', event.value, 'Player')}
        ></lan-select-field>
      </div>
    </section>`
  }

  #strategy(): TemplateResult {
    const { chosen: part, strategies } = this
    const { kind } = part.strategy
    const form = strategies.find((one) => one.kind === kind)
    const known = strategies.map((one) => ({ value: one.kind, text: one.kind }))
    return html`<section>
      <h3>Strategy: how its notes find lamps</h3>
      <lan-select-field
        label="Strategy"
        hint=${form?.about ?? ''}
        fault=${this.#faultAt('strategy')}
        .value=${kind}
        .choices=${form ? known : [{ value: kind, text: kind }, ...known]}
        @lan-commit=${(event: CommitEvent<string>) => {
          const next = strategies.find((one) => one.kind === event.value)
          if (next) this.#edit('strategy', setStrategyKind(this.#place, next))
        }}
      ></lan-select-field>
      <lan-option-form
        .fields=${fieldsOf(form?.options)}
        .values=${part.strategy}
        .lamps=${this.#ownLamps()}
        .patterns=${this.song.patterns}
        .faults=${(name: string) => this.#faultAt(`strategy.${name}`)}
        @lan-option=${({ name, value }: OptionEvent) =>
          this.#edit(`strategy.${name}`, setStrategyOption(this.#place, name, value))}
      ></lan-option-form>
    </section>`
  }

  #ownLamps(): NamedLamp[] {
    return this.chosen.lamps.map((id) => ({
      id,
      name: this.show.rig.lamps.find((lamp) => lamp.id === id)?.name ?? id,
    }))
  }

  #lamps(): TemplateResult {
    const { chosen: part, show, strategies } = this
    return html`<section>
      <h3>Lamps</h3>
      <lan-lamps-field
        label="Lamps, in the part’s order"
        fault=${this.#faultAt('lamps')}
        once
        .least=${1}
        .lamps=${show.rig.lamps}
        .value=${part.lamps}
        @lan-commit=${(event: CommitEvent<readonly string[]>) =>
          this.#edit('lamps', orderLamps(this.#place, event.value, strategies))}
      ></lan-lamps-field>
    </section>`
  }

  #notes(): TemplateResult {
    const { chosen: part } = this
    const [low, high] = part.notes
    return html`<section>
      <h3>Notes</h3>
      <div class="fields">
        <lan-key-field
          label="Lowest key it takes"
          fault=${this.#faultAt('notes')}
          .value=${low}
          @lan-commit=${(event: CommitEvent<number>) => this.#set('notes', [event.value, high], 'Keys')}
        ></lan-key-field>
        <lan-key-field
          label="Highest key it takes"
          .value=${high}
          @lan-commit=${(event: CommitEvent<number>) => this.#set('notes', [low, event.value], 'Keys')}
        ></lan-key-field>
        <lan-number-field
          label="Transposed by"
          unit="keys"
          fault=${this.#faultAt('transpose')}
          whole
          .min=${-127}
          .max=${127}
          .value=${part.transpose}
          @lan-commit=${(event: CommitEvent<number>) => this.#set('transpose', event.value, 'Transposing')}
        ></lan-number-field>
      </div>
    </section>`
  }

  #light(): TemplateResult {
    const { chosen: part } = this
    return html`<section>
        <h3>Duty</h3>
        <lan-duty-form
          fault=${this.#faultAt('duty')}
          .value=${part.duty}
          @lan-commit=${(event: CommitEvent<DutySource>) => this.#set('duty', event.value, 'Duty')}
        ></lan-duty-form>
      </section>
      <section>
        <h3>Claim</h3>
        <lan-claim-form
          fault=${this.#faultAt('claim')}
          .value=${part.claim}
          @lan-commit=${(event: CommitEvent<Claim | null>) =>
            this.#set('claim', event.value ?? undefined, 'Claim')}
        ></lan-claim-form>
        <lan-select-field
          label="When another part’s claim takes a lamp"
          fault=${this.#faultAt('onLost')}
          .value=${part.onLost}
          .choices=${ON_LOST}
          @lan-commit=${(event: CommitEvent<OnLost>) => this.#set('onLost', event.value, 'Loss')}
        ></lan-select-field>
      </section>
      <section>
        <h3>Gap</h3>
        <lan-number-field
          label="Dark before a lit lamp is struck again"
          unit="ms"
          fault=${this.#faultAt('gapMs')}
          .min=${0}
          .max=${10_000}
          .value=${part.gapMs}
          @lan-commit=${(event: CommitEvent<number>) => this.#set('gapMs', event.value, 'Gap')}
        ></lan-number-field>
      </section>`
  }
}

customElements.define('lan-part-form', LanPartForm)

declare global {
  interface HTMLElementTagNameMap {
    'lan-part-form': LanPartForm
  }
}
