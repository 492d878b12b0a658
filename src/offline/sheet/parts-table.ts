import type { Show } from '../../domain/show.ts'
import type { Part, Song } from '../../domain/song.ts'
import type { Markup } from './html.ts'
import { html, named } from './html.ts'
import { pitchWords } from './motion-words.ts'
import { claimWords, dutyWords, keysWords, transposeWords } from './part-words.ts'
import { strategyWords } from './strategy-words.ts'

export function partsTable(show: Show, song: Song): Markup {
  // Most songs do nothing with the pitch, and paper is narrow.
  const hasPitch = song.parts.some(
    ({ tuning, glide, vibrato, pulse }) => tuning !== undefined || glide || vibrato || pulse,
  )
  return html`<table class="parts">
    <caption>
      Parts
    </caption>
    <thead>
      <tr>
        <th scope="col">Part</th>
        <th scope="col">Player</th>
        <th scope="col">How notes find lamps</th>
        <th scope="col">Keys</th>
        <th scope="col">Transposed</th>
        ${hasPitch ? html`<th scope="col">Pitch</th>` : ''}
        <th scope="col">Duty</th>
        <th scope="col">Claims</th>
      </tr>
    </thead>
    <tbody>
      ${song.parts.map((part) => partRow(show, song, part, hasPitch))}
    </tbody>
  </table>`
}

function partRow(show: Show, song: Song, part: Part, hasPitch: boolean): Markup {
  const nameOf = (id: string): string => show.rig.lamps.find((lamp) => lamp.id === id)?.name ?? id
  const player = show.players.find(({ id }) => id === part.player)?.name ?? part.player
  const gap = part.gapMs === 0 ? '' : `; ${part.gapMs} ms dark before a lamp is struck again`
  return html`<tr>
    <th scope="row">${named(part.id)}</th>
    <td>${named(player)}</td>
    <td><i>${part.strategy.kind}</i>: ${named(strategyWords(part, song, nameOf))}${gap}</td>
    <td>${keysWords(part)}</td>
    <td>${transposeWords(part)}</td>
    ${hasPitch ? html`<td>${named(pitchWords(part, song.tempo))}</td>` : ''}
    <td>${dutyWords(part)}</td>
    <td>${claimWords(part)}</td>
  </tr>`
}
