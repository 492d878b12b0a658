import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, nothing } from 'lit'
import type { CommitEvent } from '../controllers/commit-event.ts'
import type { LearnController } from '../controllers/learn-controller.ts'
import type { DraftPlayer } from '../first-start/draft.ts'
import { MOST_PLAYERS, newPlayer } from '../first-start/draft.ts'
import { channelFault, channelText, readChannels } from '../rig/channel-text.ts'
import type { PlayerKind } from '../rig/player-edits.ts'
import { KIND_NAMES } from '../rig/player-edits.ts'
import { controls } from '../style/controls.ts'
import { rigSheet } from '../style/rig-sheet.ts'
import { FirstStartPiece } from './first-start-piece.ts'
import type { Learned } from './learn-offer.ts'
import './learn-offer.ts'
import './port-field.ts'
import './port-list.ts'
import './text-field.ts'

/** The first question: what plays, and where it is plugged in. */
export class LanFirstStartPlayers extends FirstStartPiece {
  static override properties: PropertyDeclarations = {
    ...FirstStartPiece.properties,
    learner: { attribute: false },
    learning: { attribute: false },
    heard: { attribute: false },
  }
  static override styles = [
    controls,
    rigSheet,
    css`
      .title {
        display: block;
        max-width: 26rem;
        margin-bottom: 1.4rem;
      }
      .more {
        margin-top: 1rem;
      }
    `,
  ]
  declare learner: LearnController
  declare learning: string | undefined
  declare heard: Learned | undefined

  override render(): TemplateResult {
    const { players } = this.draft
    const fault = this.faultAt('players')
    return html`<lan-text-field
        class="title"
        .label=${'What is the show called?'}
        .value=${this.draft.title}
        @lan-commit=${({ value }: CommitEvent<string>) => this.change({ title: value })}
      ></lan-text-field>
      <div class="cards">${players.map((player, place) => this.#card(player, place))}</div>
      ${fault ? html`<p class="fault" role="alert">${fault}</p>` : nothing}
      <div class="buttons more">
        ${Object.entries(KIND_NAMES).map(
          ([kind, name]) =>
            html`<button
              ?disabled=${players.length >= MOST_PLAYERS}
              @click=${() => this.change({ players: [...players, newPlayer(kind as PlayerKind)] })}
            >
              Add ${name.toLowerCase()}
            </button>`,
        )}
      </div>
      <lan-port-list .listed=${this.listed}></lan-port-list>`
  }

  #card(player: DraftPlayer, place: number): TemplateResult {
    const name = KIND_NAMES[player.kind]
    const called = `${name}, player ${place + 1}`
    const key = String(place)
    return html`<section class="card" aria-label=${called}>
      <h3>${name}<span class="kind">player ${place + 1}</span></h3>
      ${this.learning === key ? this.#offer(player, place) : nothing}
      <lan-port-field
        .label=${'Plugged in at'}
        .nobody=${'not known yet'}
        .value=${player.port}
        .names=${this.listed?.midiIn ?? []}
        @lan-commit=${({ value }: CommitEvent<string>) => this.#set(place, { port: value })}
      ></lan-port-field>
      <lan-text-field
        .label=${'MIDI channels'}
        .value=${channelText(player.channels)}
        .check=${channelFault}
        @lan-commit=${({ value }: CommitEvent<string>) =>
          this.#set(place, { channels: readChannels(value) ?? player.channels })}
      ></lan-text-field>
      <div class="ends">
        <button ?disabled=${this.learning === key} @click=${() => this.learner.start(key)}>
          Learn by playing<span class="unseen"> for ${called}</span>
        </button>
        <button @click=${() => this.#remove(place)}>Remove<span class="unseen"> ${called}</span></button>
      </div>
    </section>`
  }

  #offer({ kind, channels }: DraftPlayer, place: number): TemplateResult {
    const { heard } = this
    const all = heard ? [...new Set([...channels, heard.channel])].toSorted((a, b) => a - b) : []
    return html`<lan-learn-offer
      .who=${KIND_NAMES[kind]}
      .heard=${heard}
      .outcome=${heard ? `Then it is listened to there, on channels ${channelText(all)}.` : ''}
      @lan-take=${() => {
        if (heard) this.#set(place, { port: heard.port, channels: all })
        this.learner.end()
      }}
      @lan-again=${() => this.learner.again()}
      @lan-leave=${() => this.learner.end()}
    ></lan-learn-offer>`
  }

  #set(place: number, values: Partial<DraftPlayer>): void {
    const { players } = this.draft
    this.change({ players: players.map((one, at) => (at === place ? { ...one, ...values } : one)) })
  }

  #remove(place: number): void {
    // Who is being learned is known by place.
    this.learner.end()
    this.change({ players: this.draft.players.toSpliced(place, 1) })
  }
}

customElements.define('lan-first-start-players', LanFirstStartPlayers)
