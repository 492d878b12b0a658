import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, nothing } from 'lit'
import { repeat } from 'lit/directives/repeat.js'
import type { Pattern, PatternPad } from '../../../src/domain/pattern.ts'
import type { Player } from '../../../src/domain/player.ts'
import { padName } from '../../../src/domain/player.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { propose } from '../controllers/edit-event.ts'
import type { LearnController } from '../controllers/learn-controller.ts'
import type { PadAct } from '../steps/pad-edits.ts'
import { addPad, freeKey, movePad, PAD_ACTS, removePad, setPadAct, setPadField } from '../steps/pad-edits.ts'
import type { PatternPlace } from '../steps/pattern-place.ts'
import { rowName } from '../steps/pattern-place.ts'
import { STEP_NUMBERS } from '../steps/ranges.ts'
import { controls } from '../style/controls.ts'
import { lampTable } from '../style/lamp-table.ts'
import { rigSheet } from '../style/rig-sheet.ts'
import { stepFields } from '../style/step-fields.ts'
import { noteName } from '../wording/note-name.ts'
import './key-field.ts'
import type { Learned } from './learn-offer.ts'
import './learn-offer.ts'
import { RigPiece } from './rig-piece.ts'

/** A new pad. No key is called so. */
const NEW = 'new'
/** Where pads usually begin (General MIDI Level 1 percussion key map: 36, bass drum 1). */
const FIRST_KEY = 36

/** What the pads of a pattern do, each found by hitting it. Edits come from `pad KEY FIELD` and `pads`. */
export class LanPatternPads extends RigPiece {
  static override properties: PropertyDeclarations = {
    ...RigPiece.properties,
    songId: {},
    pattern: { attribute: false },
    player: { attribute: false },
    lamps: { attribute: false },
    learner: { attribute: false },
    learning: { attribute: false },
    heard: { attribute: false },
  }
  static override styles = [
    controls,
    rigSheet,
    lampTable,
    stepFields,
    css`
      tbody td,
      tbody th {
        vertical-align: top;
      }
      .choice {
        min-width: 10rem;
      }
      lan-key-field {
        display: block;
        width: 6.5rem;
      }
      .called {
        display: block;
        min-width: 5rem;
        padding: 0.6rem 0.25rem;
        font: italic 1.0625rem var(--plate-serif);
      }
      td button {
        white-space: nowrap;
      }
    `,
  ]
  declare songId: string
  declare pattern: Pattern
  /** Whose pads they are, for their names; undefined: nobody plays the pattern. */
  declare player: Player | undefined
  declare lamps: readonly string[]
  declare learner: LearnController
  declare learning: string | undefined
  declare heard: Learned | undefined

  override render(): TemplateResult {
    const { pads, rows } = this.pattern
    return html`<h2>What pads do</h2>
      ${
        pads.length === 0
          ? html`<p class="soft">
              Nothing by themselves yet: every key that its part takes moves the pattern one step on.
            </p>`
          : html`<div class="scroll" role="region" aria-label="Pads of the pattern" tabindex="0">
              <table>
                <thead>
                  <tr>
                    <th scope="col">Pad</th>
                    <th scope="col">Key</th>
                    <th scope="col">Does</th>
                    <th scope="col">To</th>
                    <td></td>
                    <td></td>
                  </tr>
                </thead>
                <tbody>
                  ${repeat(
                    pads,
                    ({ key }) => key,
                    (pad) => this.#pad(pad),
                  )}
                </tbody>
              </table>
            </div>`
      }
      ${
        this.learning === this.#who(NEW)
          ? this.#offer(NEW)
          : html`<div class="ends">
              <button ?disabled=${this.isLocked} @click=${() => this.learner.start(this.#who(NEW))}>
                Add a pad by hitting it
              </button>
              <button ?disabled=${this.isLocked} @click=${() => this.#add()}>Add a pad</button>
            </div>`
      }
      ${rows.length === 0 ? html`<p class="soft">A pad can mute a row once there is one.</p>` : nothing}
      ${this.listFault('pads')}`
  }

  get #place(): PatternPlace {
    return { song: this.songId, pattern: this.pattern.id }
  }

  #who(key: number | string): string {
    return `${this.songId} ${this.pattern.id} pad ${key}`
  }

  #pad(pad: PatternPad): TemplateResult {
    const { key } = pad
    const name = padName(this.player, key)
    const called = name ?? noteName(key)
    const at = `pad ${key}`
    return html`<tr>
        <th scope="row"><span class="called">${called}</span></th>
        <td>
          <lan-key-field
            bare
            label=${`Key of ${called}`}
            fault=${this.faultAt(`${at} key`)}
            .value=${key}
            @lan-commit=${({ value }: CommitEvent<number>) => propose(this, `${at} key`, movePad(this.#place, key, value))}
          ></lan-key-field>
        </td>
        <td class="choice">
          ${this.choice(
            `${at} do`,
            `What ${called} does`,
            pad.do,
            PAD_ACTS.filter(
              ({ value }) => this.pattern.rows.length > 0 || (value !== 'mute-row' && value !== 'note'),
            ),
            (act) => setPadAct(this.#place, key, act as PadAct),
            true,
          )}
        </td>
        <td class="choice">${this.#what(pad, called, at)}</td>
        <td>
          <button ?disabled=${this.isLocked} @click=${() => this.learner.start(this.#who(key))}>
            Learn<span class="unseen"> ${called} by hitting it</span>
          </button>
        </td>
        <td>
          <button
            ?disabled=${this.isLocked}
            @click=${() => propose(this, 'pads', removePad(this.#place, key))}
          >
            Remove<span class="unseen"> ${called}</span>
          </button>
        </td>
      </tr>
      ${
        this.learning === this.#who(key)
          ? html`<tr>
              <td colspan="6">${this.#offer(key)}</td>
            </tr>`
          : nothing
      }`
  }

  #what(pad: PatternPad, called: string, at: string): TemplateResult | typeof nothing {
    const { key } = pad
    if (pad.do === 'mute-row')
      return this.choice(
        `${at} row`,
        `Row that ${called} mutes`,
        pad.row,
        this.pattern.rows.map((row) => ({ value: row.id, text: rowName(this.show, row) })),
        (row) => setPadField(this.#place, key, 'row', row),
        true,
      )
    if (pad.do !== 'note') return nothing
    const lamps = [...new Set([...this.lamps, pad.lamp])]
    return html`${this.choice(
        `${at} lamp`,
        `Lamp of ${called}`,
        pad.lamp,
        lamps.map((id) => ({
          value: id,
          text: this.show.rig.lamps.find((lamp) => lamp.id === id)?.name ?? id,
        })),
        (lamp) => setPadField(this.#place, key, 'lamp', lamp),
        true,
      )}
      <lan-key-field
        bare
        label=${`Note of ${called}`}
        fault=${this.faultAt(`${at} note`)}
        .value=${pad.note}
        @lan-commit=${({ value }: CommitEvent<number>) =>
          propose(this, `${at} note`, setPadField(this.#place, key, 'note', value))}
      ></lan-key-field>
      ${this.number(
        `${at} duty`,
        STEP_NUMBERS.duty,
        pad.duty ?? null,
        (duty) => setPadField(this.#place, key, 'duty', duty),
        { bare: called, optional: true },
        () => setPadField(this.#place, key, 'duty', undefined),
      )}`
  }

  #offer(which: number | typeof NEW): TemplateResult {
    const { heard, player } = this
    const channels = player?.input.channels ?? []
    const isTaken = this.pattern.pads.some(({ key }) => key === heard?.key && key !== which)
    const isOwn = heard === undefined || player === undefined || channels.includes(heard.channel)
    const name = heard?.key === undefined ? '' : (padName(player, heard.key) ?? noteName(heard.key))
    const outcome = !isOwn
      ? `${player?.name ?? ''} does not listen to that channel.`
      : isTaken
        ? `${name} does something already.`
        : which === NEW
          ? `Then ${name} moves the pattern on, and can be changed.`
          : `Then it is ${name} that does it.`
    return html`<lan-learn-offer
      .who=${which === NEW ? 'a pad of the pattern' : noteName(which)}
      .heard=${heard}
      .wanted=${'Hit the pad …'}
      .isOf=${isOwn && !isTaken}
      .outcome=${heard ? outcome : ''}
      @lan-take=${() => {
        if (heard?.key !== undefined) this.#take(which, heard.key)
        this.learner.end()
      }}
      @lan-again=${() => this.learner.again()}
      @lan-leave=${() => this.learner.end()}
    ></lan-learn-offer>`
  }

  #take(which: number | typeof NEW, key: number): void {
    if (which === NEW) propose(this, 'pads', addPad(this.#place, key))
    else if (which !== key) propose(this, 'pads', movePad(this.#place, which, key))
  }

  #add(): void {
    const key = freeKey(this.pattern.pads, FIRST_KEY)
    if (key !== undefined) propose(this, 'pads', addPad(this.#place, key))
  }
}

customElements.define('lan-pattern-pads', LanPatternPads)

declare global {
  interface HTMLElementTagNameMap {
    'lan-pattern-pads': LanPatternPads
  }
}
