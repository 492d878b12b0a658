import type { Player } from '../../domain/player.ts'
import type { Show } from '../../domain/show.ts'
import type { Song } from '../../domain/song.ts'
import { gestureWords, titleOf } from './control-words.ts'
import type { Markup, Piece } from './html.ts'
import { html, joined, named } from './html.ts'
import type { WayHere } from './ways-here.ts'
import { waysHere } from './ways-here.ts'

/** For each player, what to do to come to this song. */
export function waysTable(show: Show, song: Song): Markup {
  const rows = show.players.map((player) => ({ player, ways: waysHere(show, song, player.id) }))
  if (rows.every(({ ways }) => ways.length === 0)) {
    return html`<div>
      <h3>To come here</h3>
      <p>No player’s control leads here: choose it on a screen.</p>
    </div>`
  }
  return html`<table class="ways">
    <caption>
      To come here
    </caption>
    <thead>
      <tr>
        <th scope="col">Player</th>
        <th scope="col">What to do</th>
      </tr>
    </thead>
    <tbody>
      ${rows.map(({ player, ways }) => wayRow(show, player, ways))}
    </tbody>
  </table>`
}

function wayRow(show: Show, player: Player, ways: readonly WayHere[]): Markup {
  const words: Piece =
    ways.length === 0
      ? 'nothing of theirs leads here'
      : joined(
          ways.map((way) => wayWords(show, player, way)),
          '; ',
        )
  return html`<tr>
    <th scope="row">${named(player.name)}</th>
    <td>${words}</td>
  </tr>`
}

function wayWords(show: Show, player: Player, { control, program, from }: WayHere): Piece {
  const gesture = gestureWords(control.on, player, program)
  return from === undefined ? gesture : [`${gesture}, in `, named(titleOf(show, from))]
}
