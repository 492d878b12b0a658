import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, nothing } from 'lit'
import { repeat } from 'lit/directives/repeat.js'
import type { PlayerActivity } from '../../../src/contract/from-engine.ts'
import type { PadCurve } from '../../../src/domain/pad-curve.ts'
import type { Pad, PadsPlayer } from '../../../src/domain/player.ts'
import { padName } from '../../../src/domain/player.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { propose } from '../controllers/edit-event.ts'
import type { LearnController } from '../controllers/learn-controller.ts'
import { FIRST_POINTS, pointsFault, pointsText, readPoints } from '../rig/curve-text.ts'
import { addPad, movePad, removePad, renamePad, setCurve, setPad } from '../rig/pad-edits.ts'
import { PLAYER_NUMBERS } from '../rig/ranges.ts'
import type { MakeEdit } from '../sheet/edit.ts'
import { controls } from '../style/controls.ts'
import { lampTable } from '../style/lamp-table.ts'
import { rigSheet } from '../style/rig-sheet.ts'
import { noteName } from '../wording/note-name.ts'
import './hit-picture.ts'
import './key-field.ts'
import type { Learned } from './learn-offer.ts'
import './learn-offer.ts'
import { RigPiece } from './rig-piece.ts'
import type { LanTextField } from './text-field.ts'

const CURVES = [
  { value: 'linear', text: 'as struck' },
  { value: 'soft', text: 'soft hits count for more' },
  { value: 'hard', text: 'only hard hits count' },
  { value: 'points', text: 'by points' },
]
const AS_PLAYER = [{ value: '', text: 'as the rest' }, ...CURVES]
const NUMBERS = ['floor', 'maskMs', 'gateMs'] as const

/** What pads have besides other players: how strong hits are taken to be, pads by name with settings of their own, and a picture of what they do. */
export class LanRigPads extends RigPiece {
  static override properties: PropertyDeclarations = {
    ...RigPiece.properties,
    player: { attribute: false },
    activity: { attribute: false },
    learner: { attribute: false },
    learning: { attribute: false },
    heard: { attribute: false },
  }
  static override styles = [
    controls,
    rigSheet,
    lampTable,
    css`
      :host {
        display: flex;
        flex-wrap: wrap;
        gap: 1rem 1.5rem;
        align-items: flex-start;
      }
      .list {
        flex: 3 1 34rem;
        min-width: 0;
        display: flex;
        flex-direction: column;
        gap: 0.8rem;
      }
      lan-hit-picture {
        flex: 2 1 22rem;
        min-width: 0;
        max-width: 29rem;
      }
      h4 {
        margin: 0;
        font: 500 1.0625rem var(--plate-serif);
      }
      .curve {
        max-width: 30rem;
      }
      .first {
        min-width: 7rem;
      }
      lan-key-field {
        display: block;
        min-width: 5rem;
      }
      td.choice {
        min-width: 9rem;
      }
      tbody td,
      tbody th {
        vertical-align: top;
      }
    `,
  ]
  declare player: PadsPlayer
  declare activity: PlayerActivity | undefined
  declare learner: LearnController
  declare learning: string | undefined
  declare heard: Learned | undefined
  /** A key that was just added: its name is to be typed next. */
  #added: number | undefined

  override render(): TemplateResult {
    const { player } = this
    const { id, name, pads, curve } = player
    const who = learnerOf(id)
    return html`<lan-hit-picture .player=${player} .activity=${this.activity}></lan-hit-picture>
      <div class="list">
        <div class="grid curve">
          ${this.#curve(`player ${id} curve`, 'Strength of a hit', curve, (value) => setCurve(id, value ?? 'linear'))}
        </div>
        <h4>Pads by name</h4>
        ${
          pads.length === 0
            ? html`<p class="soft">
                No pad has a name yet. A pad with a name is called by it, and may be set otherwise than the
                rest.
              </p>`
            : this.#table(pads)
        }
        ${
          this.learning === who
            ? this.#offer()
            : html`<div class="ends">
                <button ?disabled=${this.isLocked} @click=${() => this.learner.start(who)}>
                  Name a pad of ${name} by hitting it
                </button>
              </div>`
        }
        ${this.listFault(`player ${id} pads`)}
      </div>`
  }

  override updated(): void {
    if (this.#added === undefined) return
    const name = this.renderRoot.querySelector<LanTextField>(`tr[data-key="${this.#added}"] lan-text-field`)
    if (!name) return
    this.#added = undefined
    // A field that is new has nothing to focus until it is drawn itself. What is typed takes the place of the name that was there.
    void name.updateComplete.then(() => {
      name.focus()
      name.shadowRoot?.querySelector('input')?.select()
    })
  }

  #table(pads: readonly Pad[]): TemplateResult {
    const { name } = this.player
    return html`<div class="scroll" role="region" aria-label="Pads of ${name} by name" tabindex="0">
      <table>
        <caption class="unseen">
          Pads of ${name} by name; what is left empty is as for the rest of the pads
        </caption>
        <thead>
          <tr>
            <th scope="col" class="first">Name</th>
            <th scope="col">Key</th>
            <th scope="col" class="of-numbers">Softest<br />taken</th>
            <th scope="col" class="of-numbers">Bounce<br />time, ms</th>
            <th scope="col" class="of-numbers">Length<br />ms</th>
            <th scope="col">Strength</th>
            <td></td>
          </tr>
        </thead>
        <tbody>
          ${repeat(
            pads,
            ({ key }) => key,
            (pad) => this.#row(pad),
          )}
        </tbody>
      </table>
    </div>`
  }

  #row(pad: Pad): TemplateResult {
    const { key, name } = pad
    const { id } = this.player
    const at = `player ${id} pad ${key}`
    return html`<tr data-key=${key}>
      <th scope="row" class="first">
        ${this.text(`${at} name`, `Name of pad ${key}`, name, (value) => renamePad(id, key, value), { bare: true })}
      </th>
      <td>
        <lan-key-field
          bare
          .label=${`Key of ${name}`}
          .value=${key}
          .fault=${this.faultAt(`${at} key`)}
          @lan-commit=${({ value }: CommitEvent<number>) => propose(this, `${at} key`, movePad(id, key, value))}
        ></lan-key-field>
      </td>
      ${NUMBERS.map((field) => {
        const words = PLAYER_NUMBERS[field].label.toLowerCase()
        return html`<td class="number">
          ${this.number(
            `${at} ${field}`,
            PLAYER_NUMBERS[field],
            pad[field] ?? null,
            (value) => setPad(id, key, field, words, value),
            { bare: name, optional: true },
            () => setPad(id, key, field, words, null),
          )}
        </td>`
      })}
      <td class="choice">
        ${this.#curve(`${at} curve`, `Strength of ${name}`, pad.curve, (value) => setPad(id, key, 'curve', 'strength', value), true)}
      </td>
      <td>
        <button
          ?disabled=${this.isLocked}
          @click=${() => propose(this, `player ${id} pads`, removePad(id, key))}
        >
          Remove<span class="unseen"> ${name}</span>
        </button>
      </td>
    </tr>`
  }

  /** `isOwn`: of one pad, which may have none. */
  #curve(
    where: string,
    label: string,
    curve: PadCurve | undefined,
    make: (curve: PadCurve | null) => MakeEdit,
    isOwn = false,
  ): TemplateResult {
    const value = curve === undefined ? '' : typeof curve === 'string' ? curve : 'points'
    const chosen = (choice: string): PadCurve | null =>
      choice === '' ? null : choice === 'points' ? FIRST_POINTS : (choice as PadCurve)
    return html`${this.choice(where, label, value, isOwn ? AS_PLAYER : CURVES, (choice) => make(chosen(choice)), isOwn)}
    ${
      curve === undefined || typeof curve === 'string'
        ? nothing
        : this.text(
            `${where} points`,
            `${label}, points of struck and taken`,
            pointsText(curve),
            (text) => make(readPoints(text) ?? curve),
            { bare: isOwn, check: pointsFault },
          )
    }`
  }

  #offer(): TemplateResult {
    const { heard } = this
    return html`<lan-learn-offer
      .who=${this.player.name}
      .heard=${heard}
      .wanted=${`Hit the pad of ${this.player.name} that is to be named …`}
      .isOf=${heard === undefined || this.player.input.channels.includes(heard.channel)}
      .outcome=${heard ? this.#outcome(heard) : ''}
      @lan-take=${() => {
        if (heard?.key !== undefined) this.#take(heard.key)
        this.learner.end()
      }}
      @lan-again=${() => this.learner.again()}
      @lan-leave=${() => this.learner.end()}
    ></lan-learn-offer>`
  }

  #outcome({ key = 0, channel }: Learned): string {
    const { name, input } = this.player
    if (!input.channels.includes(channel))
      return `${name} does not listen to that channel; give it the channel first.`
    const called = padName(this.player, key)
    return called === undefined
      ? `Then ${noteName(key)} gets a name of its own.`
      : `It is ${called}; then its name can be changed.`
  }

  #take(key: number): void {
    const { id } = this.player
    this.#added = key
    if (padName(this.player, key) === undefined) propose(this, `player ${id} pads`, addPad(id, key))
    else this.requestUpdate()
  }
}

/** For the learner: not the player itself, whose port is learned elsewhere. No id has a space. */
function learnerOf(id: string): string {
  return `${id} pad`
}

customElements.define('lan-rig-pads', LanRigPads)

declare global {
  interface HTMLElementTagNameMap {
    'lan-rig-pads': LanRigPads
  }
}
