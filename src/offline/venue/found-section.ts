import { grouped } from '../check/grouped.ts'
import type { CheckedSong, GigCheck } from '../gig-check/gig-check.ts'
import type { Markup } from '../sheet/html.ts'
import { html, named } from '../sheet/html.ts'

/** What was found in the takes of each song, worst first; songs that nothing is said of are not there. */
export function foundSection({ songs }: GigCheck): Markup[] {
  return songs.filter(({ findings }) => findings.length > 0).map(ofSong)
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
