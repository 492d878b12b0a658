import type { PropertyDeclarations, PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import type { Lamp } from '../../../src/domain/rig.ts'
import type { FindController } from '../controllers/find-controller.ts'
import { roomHref } from '../controllers/room-controller.ts'
import { controls } from '../style/controls.ts'
import { rigSheet } from '../style/rig-sheet.ts'
import { capital } from '../sheet/field-words.ts'
import { many } from '../wording/figures.ts'

/** The end of the first start: the lamps of the new show, lit one after the other. */
export class LanFirstStartLights extends LitElement {
  static override properties: PropertyDeclarations = {
    lamps: { attribute: false },
    finder: { attribute: false },
    finding: { attribute: false },
    why: {},
    isVirtual: { attribute: false },
    isLoaded: { attribute: false },
    next: { state: true },
  }
  static override styles = [
    controls,
    rigSheet,
    css`
      .row {
        display: flex;
        flex-wrap: wrap;
        gap: 0.6rem;
        list-style: none;
        padding: 0;
        margin: 1.2rem 0;
      }
      .row button {
        font: italic 1rem var(--plate-serif);
      }
      .steps {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 1rem;
        margin: 1.2rem 0;
      }
      .next {
        font-size: 1.125rem;
        padding-inline: 1.4em;
      }
      a {
        color: var(--paper);
        display: inline-flex;
        align-items: center;
        min-height: var(--touch);
        text-underline-offset: 0.2em;
      }
      .said {
        min-height: 1.5rem;
      }
    `,
  ]
  declare lamps: readonly Lamp[]
  declare finder: FindController
  declare finding: string | null
  declare why: string
  declare isVirtual: boolean
  declare isLoaded: boolean
  /** Which lamp is lit at the next press. */
  declare private next: number
  #pressed = -1

  constructor() {
    super()
    this.lamps = []
    this.finding = null
    this.why = ''
    this.next = 0
  }

  /** A lamp has had its turn once it was lit, or refused; one for which the word of caution was not heeded has not. */
  override willUpdate(changed: PropertyValues<this>): void {
    const lit = this.lamps.findIndex(({ id }) => id === this.finding)
    if (changed.has('finding') && lit >= 0) this.next = lit + 1
    if (changed.has('why') && this.why && this.#pressed >= 0) this.next = this.#pressed + 1
  }

  override render(): TemplateResult {
    const { lamps, next } = this
    const lit = lamps.find(({ id }) => id === this.finding)
    const isDone = next >= lamps.length
    return html`<p>
        ${capital(many(lamps.length, 'lamp'))}
        ${this.isVirtual ? 'in memory ' : ''}${lamps.length === 1 ? 'is' : 'are'} ready. Light each in turn
        and see that it is the one it says${this.isVirtual ? ' (on the Stage, for now)' : ''}.
      </p>
      <div class="steps">
        <button class="next" ?disabled=${!this.isLoaded} @click=${() => this.#lightNext()}>
          ${isDone ? 'Light them again from the first' : 'Light the next lamp'}
        </button>
        <a href=${roomHref('stage')}>To the Stage</a>
        <a href=${roomHref('rig')}>To the Rig</a>
      </div>
      <p role="status" class="said ${this.why ? 'fault' : ''}">
        ${
          lit
            ? `${lit.name} is lit: ${lamps.indexOf(lit) + 1} of ${lamps.length}.`
            : this.why || (this.isLoaded ? '' : 'The show is being loaded …')
        }
      </p>
      <ul class="row" aria-label="Lamps">
        ${lamps.map(
          ({ id, name }, place) =>
            html`<li>
              <button
                aria-pressed=${this.finding === id}
                ?disabled=${!this.isLoaded}
                @click=${() => this.#light(place)}
              >
                ${name}
              </button>
            </li>`,
        )}
      </ul>`
  }

  #lightNext(): void {
    this.#light(this.next >= this.lamps.length ? 0 : this.next)
  }

  #light(place: number): void {
    const lamp = this.lamps[place]
    if (!lamp) return
    this.#pressed = place
    this.finder.press(lamp.id)
  }
}

customElements.define('lan-first-start-lights', LanFirstStartLights)
