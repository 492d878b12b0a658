import { grouped } from '../check/grouped.ts'
import type { CheckedSong, GigCheck } from '../gig-check/gig-check.ts'
import type { Markup } from '../sheet/html.ts'
import { allNamed, html, named } from '../sheet/html.ts'

/** What was found in the takes of each song, worst first; then the songs without any, together. Songs that nothing is said of are not there. */
export function foundSection({ songs }: GigCheck): Markup[] {
  const told = songs.filter(({ takes, findings }) => takes.length > 0 && findings.length > 0)
  return [...told.map(ofSong), ...withoutTakes(songs.filter(({ takes }) => takes.length === 0))]
}

function withoutTakes(songs: readonly CheckedSong[]): Markup[] {
  const [first] = songs.flatMap(({ findings }) => findings)
  if (!first) return []
  return [
    html`<div class="found">
      <h3>Not counted</h3>
      <p>
        ${allNamed(songs.map(({ song }) => song.title))}.
        ${songs.length === 1 ? 'Of this song' : 'Of each of these songs'}: ${first.message}
      </p>
    </div>`,
  ]
}

function ofSong({ song, findings }: CheckedSong): Markup {
  const places = [...grouped(findings, ({ where }) => where)]
  return html`<div class="found">
    <h3>${named(song.title)}</h3>
    ${places.map(
      ([where, all]) =>
        html`${places.length > 1 ? html`<p class="aside">${named(where)}</p>` : ''}
          <ul>
            ${all.map(({ gravity, message }) => html`<li><b>${gravity}</b>: <bdi>${message}</bdi></li>`)}
          </ul>`,
    )}
  </div>`
}
