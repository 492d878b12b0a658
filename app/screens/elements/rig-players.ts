import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, nothing } from 'lit'
import type { Player, StringsMode, StringsPlayer } from '../../../src/domain/player.ts'
import { stringsCost } from '../../../src/domain/strings-cost.ts'
import { propose } from '../controllers/edit-event.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import type { HouseView } from '../controllers/house-view.ts'
import type { LearnController } from '../controllers/learn-controller.ts'
import { channelFault, channelText, readChannels } from '../rig/channel-text.ts'
import { areHitsNew } from '../rig/hit-figures.ts'
import { useText } from '../rig/lamp-uses.ts'
import type { PlayerKind } from '../rig/player-edits.ts'
import {
  addPlayer,
  KIND_NAMES,
  KIND_NUMBERS,
  playerUses,
  removePlayer,
  renamePlayer,
  setInput,
  setKind,
  setLegato,
  setPlayerName,
  setPlayerNumber,
  setStringsMode,
} from '../rig/player-edits.ts'
import { PLAYER_NUMBERS } from '../rig/ranges.ts'
import { idFault } from '../sheet/new-id.ts'
import { controls } from '../style/controls.ts'
import { heldBackSoFar, stringsCostWords } from '../wording/held-back.ts'
import { ownerChip, ownerMark } from '../style/owner-mark.ts'
import { rigSheet } from '../style/rig-sheet.ts'
import type { Learned } from './learn-offer.ts'
import './learn-offer.ts'
import './port-field.ts'
import './port-state.ts'
import './rig-pads.ts'
import './switch-field.ts'
import type { Choice } from './select-field.ts'
import { otherIds, RigPiece } from './rig-piece.ts'

const KINDS = Object.entries(KIND_NAMES).map(([value, text]) => ({ value, text }))

/** `null`: as the number of channels has it. */
const MODES: readonly (Choice & { readonly mode: StringsMode | null })[] = [
  { value: '', text: 'As the channels say', mode: null },
  { value: 'string-per-channel', text: 'Each on its own channel', mode: 'string-per-channel' },
  { value: 'one-channel', text: 'All on one channel', mode: 'one-channel' },
]

/** What is played all the time is no reason to draw the room anew. */
function isOtherCost(now: HouseView['players'], before: HouseView['players'] | undefined): boolean {
  if (!before) return true
  return [...now].some(
    ([id, { heldBack }]) => heldBackSoFar(heldBack) !== heldBackSoFar(before.get(id)?.heldBack),
  )
}

function isOtherActivity(now: HouseView['players'], before: HouseView['players'] | undefined): boolean {
  return areHitsNew(now, before) || isOtherCost(now, before)
}

/** The players: where each is heard, and how what it plays is taken. */
export class LanRigPlayers extends RigPiece {
  static override properties: PropertyDeclarations = {
    ...RigPiece.properties,
    learner: { attribute: false },
    learning: { attribute: false },
    heard: { attribute: false },
    activities: { attribute: false, hasChanged: isOtherActivity },
    removing: { state: true },
  }
  static override styles = [
    controls,
    rigSheet,
    css`
      /* Pads have a picture and a table besides: a row of their own. */
      .card.whole {
        grid-column: 1 / -1;
      }
      .card.whole > .grid {
        grid-template-columns: repeat(auto-fill, minmax(min(100%, 10.5rem), 1fr));
      }
    `,
  ]
  declare learner: LearnController
  /** Whom the learner listens for, and what it heard; beside it so that their change is seen. */
  declare learning: string | undefined
  declare heard: Learned | undefined
  /** What players are doing; seen anew when pads are hit and when conditioning held a note back. */
  declare activities: HouseView['players']
  /** The player whose removal waits to be confirmed. */
  declare private removing: string | undefined

  override render(): TemplateResult {
    const add = (kind: PlayerKind): void => propose(this, 'players', addPlayer(kind))
    return html`<div class="head">
        <h2>Players</h2>
        <div class="buttons">
          ${KINDS.map(
            ({ value, text }) =>
              html`<button ?disabled=${this.isLocked} @click=${() => add(value as PlayerKind)}>
                Add ${text.toLowerCase()}
              </button>`,
          )}
        </div>
      </div>
      <div class="cards">${inOrder(this.show.players).map((player) => this.#card(player))}</div>
      ${this.listFault('players')}`
  }

  #card(player: Player): TemplateResult {
    const { id, name, kind } = player
    const { players } = this.show
    return html`<section class=${kind === 'pads' ? 'card whole' : 'card'} aria-label="Player ${name}">
      <h3>${ownerChip(ownerMark(players, id), name)}<span class="kind">${KIND_NAMES[kind]}</span></h3>
      <lan-port-state .port=${this.ports.get(id)} .called=${name}></lan-port-state>
      ${this.learning === id ? this.#offer(player) : nothing}
      <div class="grid">
        ${this.text(`player ${id} name`, 'Name', name, (value) => setPlayerName(id, value))}
        ${this.text(`player ${id} id`, 'Id', id, (value) => renamePlayer(id, value), {
          check: (text) => idFault(text, otherIds(players, player)),
        })}
        ${this.choice(`player ${id} kind`, 'Kind', kind, KINDS, (value) => setKind(id, value as PlayerKind))}
        ${this.#input(player)} ${this.#numbers(player)}
        ${player.kind === 'strings' ? this.#strings(player) : nothing}
      </div>
      ${
        player.kind === 'pads'
          ? html`<lan-rig-pads
              .show=${this.show}
              .fault=${this.fault}
              .player=${player}
              .activity=${this.activities.get(id)}
              .learner=${this.learner}
              .learning=${this.learning}
              .heard=${this.heard}
            ></lan-rig-pads>`
          : nothing
      }
      ${player.kind === 'strings' ? this.#cost(player) : nothing}
      ${this.removing === id ? this.#confirm(player) : this.#ends(player)}
    </section>`
  }

  #input({ id, input }: Player): TemplateResult {
    const at = `player ${id}`
    return html`${this.text(
        `${at} channels`,
        'Channels',
        channelText(input.channels),
        (text) => setInput(id, 'channels', { channels: readChannels(text) ?? input.channels }),
        { check: channelFault },
      )}
      <lan-port-field
        class="wide"
        .label=${'Input port'}
        .value=${input.port}
        .names=${this.listed?.midiIn ?? []}
        .fault=${this.faultAt(`${at} port`)}
        @lan-commit=${({ value }: CommitEvent<string>) =>
          propose(this, `${at} port`, setInput(id, 'port', { port: value }))}
      ></lan-port-field>`
  }

  #numbers(player: Player): TemplateResult[] {
    const values: Readonly<Record<string, unknown>> = { ...player }
    const fields = Object.keys(KIND_NUMBERS[player.kind]) as (keyof typeof PLAYER_NUMBERS)[]
    return fields.map((field) => {
      const kind = PLAYER_NUMBERS[field]
      return this.number(`player ${player.id} ${field}`, kind, Number(values[field]), (value) =>
        setPlayerNumber(player.id, field, kind.label.toLowerCase(), value),
      )
    })
  }

  #strings(player: StringsPlayer): TemplateResult {
    const { id, mode, legato } = player
    return html`${this.choice(`player ${id} mode`, 'Strings come', mode ?? '', MODES, (value) =>
        setStringsMode(id, MODES.find((one) => one.mode !== null && one.value === value)?.mode ?? null),
      )}
      <lan-switch-field
        .label=${'Legato notes are not struck anew'}
        .value=${legato}
        .fault=${this.faultAt(`player ${id} legato`)}
        @lan-commit=${({ value }: CommitEvent<boolean>) =>
          propose(this, `player ${id} legato`, setLegato(id, value))}
      ></lan-switch-field>`
  }

  /** What conditioning costs is said where it is set. */
  #cost(player: StringsPlayer): TemplateResult {
    const { heldBack } = this.activities.get(player.id) ?? {}
    return html`<p class="soft">${stringsCostWords(stringsCost(player))} ${heldBackSoFar(heldBack)}</p>`
  }

  #offer({ id, name, input }: Player): TemplateResult {
    const { heard } = this
    const channels = heard ? [...new Set([...input.channels, heard.channel])].toSorted((a, b) => a - b) : []
    return html`<lan-learn-offer
      .who=${name}
      .heard=${heard}
      .outcome=${heard ? `Then ${name} listens to ${heard.port}, channels ${channelText(channels)}.` : ''}
      @lan-take=${() => {
        if (heard) propose(this, `player ${id} port`, setInput(id, 'input', { port: heard.port, channels }))
        this.learner.end()
      }}
      @lan-again=${() => this.learner.again()}
      @lan-leave=${() => this.learner.end()}
    ></lan-learn-offer>`
  }

  #ends({ id, name }: Player): TemplateResult {
    return html`<div class="ends">
      <button ?disabled=${this.isLocked || this.learning === id} @click=${() => this.learner.start(id)}>
        Learn ${name} by playing
      </button>
      ${
        this.show.players.length > 1
          ? html`<button ?disabled=${this.isLocked} @click=${() => this.#remove(id)}>Remove ${name}</button>`
          : html`<span class="soft">A show has at least one player.</span>`
      }
    </div>`
  }

  #remove(id: string): void {
    if (playerUses(this.show, id).length > 0) this.removing = id
    else propose(this, 'players', removePlayer(id))
  }

  #confirm({ id, name }: Player): TemplateResult {
    const uses = playerUses(this.show, id)
    return html`<div class="asking" role="alert">
      <p>
        ${name} plays ${uses.map(useText).join(', ')}. Without it
        ${uses.length === 1 ? 'that part goes' : 'these parts go'} too.
      </p>
      <div class="buttons">
        <button
          ?disabled=${this.isLocked}
          @click=${() => {
            this.removing = undefined
            propose(this, 'players', removePlayer(id))
          }}
        >
          Remove ${name} and ${uses.length === 1 ? 'its part' : `its ${uses.length} parts`}
        </button>
        <button @click=${() => void (this.removing = undefined)}>Keep ${name}</button>
      </div>
    </div>`
  }
}

/** Those with a row of their own come last: read and seen in one order, without gaps. */
function inOrder(players: readonly Player[]): Player[] {
  return players.toSorted((a, b) => Number(a.kind === 'pads') - Number(b.kind === 'pads'))
}

customElements.define('lan-rig-players', LanRigPlayers)
