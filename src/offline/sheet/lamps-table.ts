import type { Lamp } from '../../domain/rig.ts'
import type { Show } from '../../domain/show.ts'
import type { Song } from '../../domain/song.ts'
import type { Markup, Piece } from './html.ts'
import { allNamed, html, joined, named } from './html.ts'
import { ordinal } from './part-words.ts'

/** The lamps of a song in the rig's order, and the parts that may light each. */
export function lampsTable(show: Show, song: Song): Markup {
  const used = new Set(song.parts.flatMap(({ lamps }) => lamps))
  const dark = show.rig.lamps.filter(({ id }) => !used.has(id))
  return html`<div>
    <table class="lamps">
      <caption>
        Lamps
      </caption>
      <thead>
        <tr>
          <th scope="col">Lamp</th>
          <th scope="col">Supply</th>
          <th scope="col">Lit by, and its place in the part’s order</th>
        </tr>
      </thead>
      <tbody>
        ${show.rig.lamps.filter(({ id }) => used.has(id)).map((lamp) => lampRow(show, song, lamp))}
      </tbody>
    </table>
    ${dark.length === 0 ? '' : html`<p class="aside">Dark in this song: ${allNamed(dark.map(({ name }) => name))}.</p>`}
  </div>`
}

function lampRow(show: Show, song: Song, lamp: Lamp): Markup {
  const supply = show.rig.supplies.find(({ id }) => id === lamp.supply)
  const volts = supply ? `, ${supply.volts} V` : ''
  const users = song.parts.flatMap(({ id, player, lamps, claim }): Piece[] => {
    const place = lamps.indexOf(lamp.id)
    if (place < 0) return []
    const name = show.players.find((one) => one.id === player)?.name ?? player
    return [
      html`${named(id)} (${named(name)}) ${ordinal(place + 1)} of ${lamps.length}${claim ? ', claims it' : ''}`,
    ]
  })
  return html`<tr>
    <th scope="row">${named(lamp.name)}</th>
    <td>${named(lamp.supply)}${volts}</td>
    <td>${joined(users, '; ')}</td>
  </tr>`
}
