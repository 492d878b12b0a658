import type { PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import { ask } from '../controllers/ask-event.ts'
import type { EditEvent } from '../controllers/edit-event.ts'
import { EditController } from '../controllers/edit-controller.ts'
import { FindController } from '../controllers/find-controller.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import { LearnController } from '../controllers/learn-controller.ts'
import { isElsewhere } from '../controllers/view-slices.ts'
import { capital } from '../sheet/field-words.ts'
import { controls } from '../style/controls.ts'
import './find-caution.ts'
import './rig-clock.ts'
import './rig-guards.ts'
import './rig-lamps.ts'
import './rig-outputs.ts'
import './rig-players.ts'
import './rig-supplies.ts'

/** What the room shows of the house; lamps that light and go dark are not its matter. */
const SHOWN = [
  'link',
  'show',
  'welcome',
  'ports',
  'players',
  'listed',
  'learned',
  'finding',
  'editRefused',
  'words',
  // Once a second: what conditioning has cost so far is drawn no more often.
  'figures',
] as const
const SECTIONS = ['players', 'outputs', 'clock', 'supplies', 'guards', 'lamps'] as const

/** The hook-up sheet: players, lamp boxes, supplies, guards and lamps, and how they are joined. */
export class LanRigRoom extends LitElement {
  static override properties = { view: { attribute: false } }
  static override styles = [
    controls,
    css`
      :host {
        display: block;
        position: relative;
        padding: 1.25rem;
      }
      header {
        display: flex;
        flex-wrap: wrap;
        align-items: flex-start;
        gap: 1rem 2rem;
        margin-bottom: 1.75rem;
      }
      h1 {
        font-size: 1.75rem;
      }
      nav {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
        margin-left: auto;
      }
      .label p {
        margin: 0.15rem 0 0;
        color: var(--paper-soft);
      }
      .sections > * {
        display: block;
        margin-bottom: 2.5rem;
        scroll-margin-top: 1rem;
      }
      .refused {
        border: 1px solid var(--grave);
        color: var(--grave);
        padding: 0.6rem 0.9rem;
        margin: 0 0 1.25rem;
        overflow-wrap: anywhere;
      }
    `,
  ]
  declare view: HouseView
  readonly #edits = new EditController(this)
  readonly #learner = new LearnController(this)
  readonly #finder = new FindController(this)
  #hasAsked = false

  constructor() {
    super()
    this.view = NOTHING_YET
  }

  protected override shouldUpdate(changed: PropertyValues<this>): boolean {
    return !isElsewhere(changed, this.view, SHOWN)
  }

  protected override willUpdate(): void {
    this.#edits.see(this.view)
    this.#learner.see(this.view)
    this.#finder.see(this.view)
  }

  protected override updated(): void {
    if (this.view.link !== 'open') this.#hasAsked = false
    else if (!this.#hasAsked) {
      this.#hasAsked = true
      ask(this, { type: 'list-ports' })
    }
  }

  override render(): TemplateResult {
    return html`<header>
        <div class="label">
          <h1>Rig</h1>
          <p>Hook-up sheet</p>
        </div>
        <nav aria-label="In this room">
          ${SECTIONS.map(
            (section) => html`<button @click=${() => this.#goTo(section)}>${capital(section)}</button>`,
          )}
        </nav>
      </header>
      ${this.view.show ? this.#sheet(this.view.show.show) : html`<p class="soft">No show is open.</p>`}`
  }

  #sheet(show: NonNullable<HouseView['show']>['show']): TemplateResult {
    const { ports, listed, welcome, finding, players } = this.view
    const { fault } = this.#edits
    const strategies = welcome?.strategies ?? []
    const asking = show.rig.lamps.find(({ id }) => id === this.#finder.asking)
    return html`${
        fault
          ? html`<p class="refused" role="alert">Not changed (${fault.where}): ${fault.message}</p>`
          : nothing
      }
      <div class="sections" @lan-edit=${({ where, make }: EditEvent) => this.#edits.edit(where, make)}>
        <lan-rig-players
          id="players"
          .show=${show}
          .fault=${fault}
          .ports=${ports}
          .listed=${listed}
          .activities=${players}
          .learner=${this.#learner}
          .learning=${this.#learner.who}
          .heard=${this.#learner.heard}
        ></lan-rig-players>
        <lan-rig-outputs
          id="outputs"
          .show=${show}
          .fault=${fault}
          .ports=${ports}
          .listed=${listed}
        ></lan-rig-outputs>
        <lan-rig-clock
          id="clock"
          .show=${show}
          .fault=${fault}
          .ports=${ports}
          .listed=${listed}
        ></lan-rig-clock>
        <lan-rig-supplies id="supplies" .show=${show} .fault=${fault}></lan-rig-supplies>
        <lan-rig-guards id="guards" .show=${show} .fault=${fault}></lan-rig-guards>
        <lan-rig-lamps
          id="lamps"
          .show=${show}
          .fault=${fault}
          .strategies=${strategies}
          .finder=${this.#finder}
          .finding=${finding}
          .why=${this.#finder.why}
        ></lan-rig-lamps>
      </div>
      ${
        asking
          ? html`<lan-find-caution
              .lamp=${asking.name}
              .answer=${(isYes: boolean) => this.#finder.answer(isYes)}
            ></lan-find-caution>`
          : nothing
      }`
  }

  #goTo(section: string): void {
    const place = this.renderRoot.querySelector(`#${section}`)
    place?.scrollIntoView()
    place?.shadowRoot?.querySelector<HTMLElement>('button, input, select')?.focus({ preventScroll: true })
  }
}

customElements.define('lan-rig-room', LanRigRoom)
