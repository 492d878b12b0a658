import type { Show } from '../../domain/show.ts'
import type { Song } from '../../domain/song.ts'
import { counted } from '../check/listed.ts'
import { songFamily, songsReached } from '../songs-reached.ts'
import { guardsApart, showGuardWords } from './guard-words.ts'
import type { Markup, Piece } from './html.ts'
import { allNamed, html, named } from './html.ts'
import { lengthWords } from './song-words.ts'
import { sprig } from './sprig.ts'

/** The first page: the night in its order, and how long it is planned to be. */
export function setListPage(show: Show): Markup {
  const byId = new Map(show.songs.map((song) => [song.id, song]))
  const places = show.setList.flatMap((id) => byId.get(id) ?? [])
  return html`<section class="plate">
    <header class="label">
      <div>
        <p class="over">Set list</p>
        <h1>${named(show.title)}</h1>
        <p>
          ${counted(places.length, 'place')}, ${counted(show.players.length, 'player')},
          ${counted(show.rig.lamps.length, 'lamp')}
        </p>
      </div>
      ${sprig(places.length)}
    </header>
    ${places.length === 0 ? html`<p>The set list is empty.</p>` : placesTable(show, places)}
    <p class="aside">
      ${showGuardWords(show)}
      ${guardsApart(show, songsReached(show)).map(({ song, words }) => html`In ${named(song.title)} it ${words}. `)}
    </p>
  </section>`
}

function placesTable(show: Show, places: readonly Song[]): Markup {
  return html`<table class="set-list">
    <caption>
      The songs in their order
    </caption>
    <thead>
      <tr>
        <th scope="col" class="figure">Place</th>
        <th scope="col">Song</th>
        <th scope="col" class="figure">Planned</th>
      </tr>
    </thead>
    <tbody>
      ${places.map((song, index) => placeRow(show, song, index + 1))}
    </tbody>
    <tfoot>
      ${sumRow(places)}
    </tfoot>
  </table>`
}

function placeRow(show: Show, song: Song, place: number): Markup {
  const variants = songFamily(show, song).filter((one) => one !== song && one.variantOf === song.id)
  const asides: Piece[] = [
    ...(song.skip ? [html`<div class="aside">skipped: next and previous pass over it</div>`] : []),
    ...(variants.length === 0
      ? []
      : [
          html`<div class="aside">
            ${variants.length === 1 ? 'variant' : 'variants'}: ${allNamed(variants.map(({ title }) => title))}
          </div>`,
        ]),
  ]
  const length = song.minutes === undefined ? 'not said' : lengthWords(song.minutes)
  return html`<tr class="${song.skip ? 'skipped' : 'played'}">
    <td class="figure">${place}</td>
    <th scope="row"><span class="title">${named(song.title)}</span> ${asides}</th>
    <td class="figure">${song.skip && song.minutes !== undefined ? `(${length})` : length}</td>
  </tr>`
}

/** What is known of the length, and of how many places nothing is. */
function sumRow(places: readonly Song[]): Markup {
  const played = places.filter(({ skip }) => !skip)
  const known = played.flatMap(({ minutes }) => minutes ?? [])
  const unknown = played.length - known.length
  const rest = [
    ...(unknown === 0 ? [] : [`${counted(unknown, 'place')} without a planned length`]),
    ...(played.length === places.length ? [] : ['without what is skipped']),
  ]
  const sum = known.reduce((total, minutes) => total + minutes, 0)
  return html`<tr>
    <td></td>
    <th scope="row">
      Planned together${rest.length === 0 ? '' : html` <span class="aside">(${rest.join('; ')})</span>`}
    </th>
    <td class="figure">${known.length === 0 ? 'not said' : lengthWords(sum)}</td>
  </tr>`
}
