import type { PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import type { Finding, Gravity } from '../checks/sift-findings.ts'
import { countOf, EVERY_SONG, GRAVITIES, isCaution, NO_SONG, sifted } from '../checks/sift-findings.ts'
import { countingWords, takeRows, withTakes } from '../checks/take-rows.ts'
import { mendLink } from '../checks/mend-link.ts'
import { ask } from '../controllers/ask-event.ts'
import { AskWhenChanged } from '../controllers/ask-when-changed.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { NOTHING_YET } from '../controllers/house-view.ts'
import { roomHref } from '../controllers/room-controller.ts'
import { isElsewhere } from '../controllers/view-slices.ts'
import { controls } from '../style/controls.ts'
import { gravityMark } from '../style/gravity-mark.ts'
import { plate } from '../style/plate.ts'
import { sentence } from '../wording/sentence.ts'
import './gig-papers.ts'
import './select-field.ts'
import './take-table.ts'

const SHOWN = ['show', 'checks', 'takeChecks', 'takesCounting', 'venue', 'link', 'welcome'] as const
const PLURALS: Readonly<Record<Gravity, string>> = { fault: 'Faults', warning: 'Warnings', note: 'Notes' }

/** What would go wrong with the show on stage, as far as it can be counted beforehand, and where to mend it. */
export class LanChecksRoom extends LitElement {
  static override properties = {
    view: { attribute: false },
    gravities: { state: true },
    song: { state: true },
  }
  static override styles = [
    controls,
    plate,
    css`
      fieldset {
        border: 0;
        padding: 0;
        margin: 0;
      }
      legend {
        padding: 0;
        color: var(--paper-soft);
        font-size: 0.875rem;
        margin-bottom: 0.2em;
      }
      .gravities {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
      }
      button[aria-pressed='true'] {
        background: var(--pane-raised);
        border-color: var(--light);
        color: var(--paper);
      }
      button[aria-pressed='false'] {
        background: none;
        border-style: dashed;
        color: var(--paper-soft);
      }
      lan-select-field {
        min-width: 14rem;
      }
      .findings {
        list-style: none;
        margin: 0;
        padding: 0;
      }
      .findings > li {
        display: grid;
        grid-template-columns: 7rem minmax(0, 1fr);
        gap: 0.25rem 1rem;
        padding: 1rem 0;
        border-bottom: 1px solid var(--bar);
      }
      .findings h3 {
        font-family: inherit;
        font-size: 1rem;
        font-weight: 600;
        overflow-wrap: anywhere;
      }
      .findings p {
        margin: 0.25rem 0 0.4rem;
        max-width: 80ch;
      }
      .findings a {
        display: inline-block;
        min-height: 24px;
      }
      .counting {
        margin: 0 0 0.6rem;
        max-width: 80ch;
      }
      .caution {
        border: 1px solid var(--warn);
        max-width: 90ch;
      }
      .caution p {
        margin: 0.4rem 0 0;
      }
      .caution h2 {
        margin: 0;
      }
      @media (max-width: 600px) {
        .findings > li {
          grid-template-columns: minmax(0, 1fr);
        }
      }
    `,
  ]
  declare view: HouseView
  declare private gravities: ReadonlySet<Gravity>
  declare private song: string
  readonly #asking = new AskWhenChanged(this, () => {
    ask(this, { type: 'ask-checks' })
    ask(this, { type: 'ask-take-checks' })
  })

  constructor() {
    super()
    this.view = NOTHING_YET
    this.gravities = new Set(GRAVITIES)
    this.song = EVERY_SONG
  }

  override shouldUpdate(changed: PropertyValues): boolean {
    return !isElsewhere(changed, this.view, SHOWN)
  }

  override willUpdate(): void {
    // A song that is not there any more cannot be sifted by.
    const show = this.view.show?.show
    if (![EVERY_SONG, NO_SONG].includes(this.song) && show && !show.songs.some(({ id }) => id === this.song))
      this.song = EVERY_SONG
  }

  override updated(): void {
    const { show, welcome, link } = this.view
    this.#asking.see(show && link === 'open' ? [welcome, show.revision] : undefined)
  }

  override render(): TemplateResult {
    const { checks, show, takeChecks, venue, link } = this.view
    const own = checks?.findings.filter((one) => !isCaution(one)) ?? []
    const findings = withTakes(own, takeChecks)
    return html`<div class="plate">
      <div class="head">
        <h1 class="label">Checks</h1>
        <p role="status">${this.#state()}</p>
      </div>
      <div class="tools">
        <fieldset>
          <legend>Shown</legend>
          <div class="gravities">${GRAVITIES.map((gravity) => this.#toggle(gravity, findings))}</div>
        </fieldset>
        <lan-select-field
          look
          label="Song"
          .value=${this.song}
          .choices=${[
            { value: EVERY_SONG, text: 'every song, and the rest' },
            ...(show?.show.songs.map(({ id, title }) => ({ value: id, text: title })) ?? []),
            { value: NO_SONG, text: 'what is of no one song' },
          ]}
          @lan-commit=${(event: CommitEvent<string>) => (this.song = event.value)}
        ></lan-select-field>
      </div>
      ${this.#takes()} ${this.#list(findings)}
      <section class="pane" aria-labelledby="papers">
        <h2 id="papers">For the venue and the audience</h2>
        <lan-gig-papers
          .venue=${venue}
          .notices=${takeChecks?.notices ?? null}
          .isReached=${link === 'open' && show !== undefined}
        ></lan-gig-papers>
      </section>
      <section class="pane caution" aria-labelledby="caution">
        <h2 id="caution">For every show</h2>
        ${this.#cautions().map((text) => html`<p>${sentence(text)}</p>`)}
      </section>
    </div>`
  }

  #state(): string {
    const { checks, show } = this.view
    if (!show) return 'Waiting for the show.'
    if (!checks) return `Checking revision ${show.revision}...`
    if (checks.revision === show.revision) return `Counted for revision ${checks.revision} of the show.`
    return `Checking revision ${show.revision}... What stands here was counted for revision ${checks.revision}.`
  }

  #toggle(gravity: Gravity, findings: readonly Finding[]): TemplateResult {
    const isOn = this.gravities.has(gravity)
    return html`<button
      type="button"
      aria-pressed=${isOn}
      @click=${() => (this.gravities = new Set(GRAVITIES.filter((one) => (one === gravity ? !isOn : this.gravities.has(one)))))}
    >
      ${gravityMark(gravity, `${PLURALS[gravity]} ${countOf(findings, gravity)}`)}
    </button>`
  }

  #takes(): TemplateResult | typeof nothing {
    const { show, takeChecks, takesCounting } = this.view
    if (!show) return nothing
    const rows = takeChecks ? takeRows(takeChecks, show.show) : []
    return html`<section class="pane" aria-labelledby="takes">
      <h2 id="takes">Counted from takes</h2>
      <p class="counting" role="status">${countingWords(show.revision, takeChecks, takesCounting)}</p>
      ${rows.some(({ take }) => take !== '') ? html`<lan-take-table .rows=${rows}></lan-take-table>` : nothing}
      ${
        rows.some(({ take }) => take !== '')
          ? html`<p class="margin">
              WCAG 2.2 SC 2.3.1 allows at most three flashes in any one second; 3 to 30 Hz is the band of most
              concern (epilepsy charities, second-hand). Shares are of all lamps, not of area. These are
              counts of what was recorded, and no verdict.
            </p>`
          : nothing
      }
    </section>`
  }

  #list(findings: readonly Finding[]): TemplateResult {
    const { show, checks } = this.view
    if (!show || !checks) return html``
    if (findings.length === 0) return html`<p>Nothing counted against this show but the cautions.</p>`
    const shown = sifted(findings, { gravities: this.gravities, song: this.song }, show.show)
    const left = findings.length - shown.length
    return html`<section class="pane" aria-labelledby="found">
      <h2 id="found">Found</h2>
      ${left > 0 ? html`<p class="margin">${shown.length} of ${findings.length} shown, ${left} sifted out.</p>` : nothing}
      <ul class="findings">
        ${shown.map((finding) => this.#finding(finding))}
      </ul>
    </section>`
  }

  #finding(finding: Finding): TemplateResult {
    const { gravity, where, message, path } = finding
    const show = this.view.show?.show
    const link = show && mendLink(path, show)
    return html`<li>
      <span>${gravityMark(gravity)}</span>
      <div>
        <h3>${where}</h3>
        <p>${sentence(message)}</p>
        ${link ? html`<a href=${roomHref(link.room, ...link.rest)}>${link.words}</a>` : nothing}
      </div>
    </li>`
  }

  /** As the checks say it; until they do, as the host said it at the door. */
  #cautions(): readonly string[] {
    const { checks, welcome } = this.view
    const found = checks?.findings.filter(isCaution).map(({ message }) => message) ?? []
    return found.length > 0 ? found : (welcome?.cautions ?? [])
  }
}

customElements.define('lan-checks-room', LanChecksRoom)
