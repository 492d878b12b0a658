import type { PropertyValues, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import { flashGuardOf } from '../../../src/domain/flash-guard.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import type { Micros } from '../../../src/domain/units.ts'
import { guardNews, NO_GUARD_NEWS } from '../stage/guard-news.ts'
import type { GuardCounts, GuardLine } from '../stage/guard-words.ts'
import { flashLine, supplyLine } from '../stage/guard-words.ts'
import { controls } from '../style/controls.ts'

/**
 * How it stands with the guards of the song that plays, in words that are read from two metres. Every line has its height whatever stands in it, and nothing here
 * moves; those who hear the page are told what begins and ends, not the figures.
 */
export class LanStageGuards extends LitElement {
  static override properties = {
    show: { attribute: false },
    song: { attribute: false },
    counts: { attribute: false },
    now: { attribute: false },
  }
  static override styles = [
    controls,
    css`
      :host {
        display: grid;
        grid-template-columns: minmax(0, 1fr) 22rem;
        column-gap: 1.5rem;
        padding: 0.05rem 1.25rem 0.1rem;
        border-top: 1px solid var(--bar-strong);
        font-variant-numeric: tabular-nums;
        /* What is only for those who hear the page stays within. */
        position: relative;
      }
      p {
        margin: 0;
        white-space: nowrap;
        overflow: hidden;
        text-overflow: ellipsis;
      }
      .state {
        height: 2.1rem;
        font-size: 1.75rem;
        line-height: 2.1rem;
        font-weight: 700;
      }
      b {
        color: var(--warn);
      }
      .figures {
        height: 1.55rem;
        font-size: 1.25rem;
        line-height: 1.55rem;
      }
      @media (min-width: 901px) and (max-width: 1200px) {
        :host {
          grid-template-columns: minmax(0, 1fr) 16rem;
        }
        .state {
          font-size: 1.5rem;
        }
        .figures {
          font-size: 1.125rem;
        }
      }
      @media (max-width: 900px) {
        :host {
          grid-template-columns: minmax(0, 1fr);
          row-gap: 0.2rem;
        }
      }
    `,
  ]
  declare show: Show
  declare song: Song | undefined
  declare counts: GuardCounts | undefined
  /** Engine time. */
  declare now: Micros
  #news = NO_GUARD_NEWS

  constructor() {
    super()
    this.song = undefined
    this.counts = undefined
    this.now = 0
  }

  override willUpdate(_changed: PropertyValues<this>): void {
    const { song, counts, now } = this
    this.#news = song && counts ? guardNews(this.#news, song.id, counts, now) : NO_GUARD_NEWS
  }

  override render(): TemplateResult {
    const { show, song, counts } = this
    const guard = song ? flashGuardOf(show, song) : show.guards.flash
    const flash = flashLine(guard, counts?.flash)
    return html`<div class="flash">${this.#line(flash, flash.isWarning)}</div>
      <div class="supply">${this.#line(supplyLine(show.guards.supply.action, counts?.supply))}</div>
      <p class="unseen" role="status">${this.#news.text}</p>`
  }

  #line({ state, figures }: GuardLine, isWarning = false): TemplateResult {
    return html`<p class="state">${isWarning ? html`<b>Warning:</b> ` : nothing}${state}</p>
      <p class="figures">${figures}</p>`
  }
}

customElements.define('lan-stage-guards', LanStageGuards)

declare global {
  interface HTMLElementTagNameMap {
    'lan-stage-guards': LanStageGuards
  }
}
