import type { TemplateResult } from 'lit'
import { css, html, nothing } from 'lit'
import type { FlashGuard } from '../../../src/domain/flash-guard.ts'
import { flashGuardWords } from '../../../src/domain/flash-guard.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { propose } from '../controllers/edit-event.ts'
import { roomHref } from '../controllers/room-controller.ts'
import { FLASH_CHOICES, SUPPLY_CHOICES } from '../sheet/guard-choices.ts'
import { setFlashGuard, setSupplyGuard } from '../sheet/guard-edits.ts'
import { controls } from '../style/controls.ts'
import { rigSheet } from '../style/rig-sheet.ts'
import './flash-guard-form.ts'
import { RigPiece } from './rig-piece.ts'

/** What the house does by itself about flashing light and about what supplies may give. */
export class LanRigGuards extends RigPiece {
  static override styles = [
    controls,
    rigSheet,
    css`
      dl {
        display: grid;
        grid-template-columns: auto minmax(0, 1fr);
        gap: 0.25rem 0.9rem;
        margin: 0;
        font-size: 0.9375rem;
        color: var(--paper-soft);
      }
      dd {
        margin: 0;
      }
      ul {
        margin: 0;
        padding-left: 1.2rem;
      }
      a {
        color: var(--paper);
        display: inline-block;
        padding: 0.2rem 0;
        text-underline-offset: 0.2em;
      }
    `,
  ]

  override render(): TemplateResult {
    const { guards } = this.show
    return html`<div class="head"><h2>Guards</h2></div>
      <div class="cards">
        <section class="card" aria-label="Flash guard">
          <h3>Flash guard</h3>
          <lan-flash-guard-form
            .value=${guards.flash}
            .fault=${this.faultAt('flash guard')}
            @lan-commit=${(event: CommitEvent<FlashGuard>) => propose(this, 'flash guard', setFlashGuard(event.value))}
          ></lan-flash-guard-form>
          ${lines(FLASH_CHOICES)}${this.#own()}
        </section>
        <section class="card" aria-label="Supply guard">
          <h3>Supply guard</h3>
          ${this.choice('supply guard', 'Supply guard', guards.supply.action, SUPPLY_CHOICES, setSupplyGuard)}
          ${lines(SUPPLY_CHOICES)}
        </section>
      </div>
      <p class="note">
        Guards count with what the show says and measure nothing: how bright the light is, how much of
        anybody’s view it fills, and who is looking, Lanthorn does not know. Sources: WCAG 2.2, success
        criterion 2.3.1, for the three flashes in any one second; epilepsy charities, second-hand, for 3 to 30
        Hz and for 60 Hz.
      </p>`
  }

  /** Songs that do otherwise. */
  #own(): TemplateResult | typeof nothing {
    const songs = this.show.songs.filter(({ flash }) => flash !== undefined)
    if (songs.length === 0) return nothing
    return html`<div>
      <p>Songs with one of their own:</p>
      <ul>
        ${songs.map(
          ({ id, title, flash }) =>
            html`<li>
              <a href=${roomHref('sheet', id)}><em>${title}</em></a> ${flash ? flashGuardWords(flash) : ''}
            </li>`,
        )}
      </ul>
    </div>`
  }
}

function lines(choices: readonly { readonly text: string; readonly about: string }[]): TemplateResult {
  return html`<dl>
    ${choices.map(
      ({ text, about }) =>
        html`<dt>${text}</dt>
          <dd>${about}</dd>`,
    )}
  </dl>`
}

customElements.define('lan-rig-guards', LanRigGuards)
