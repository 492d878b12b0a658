import type { Show } from '../domain/show.ts'
import { html, Markup } from './sheet/html.ts'
import { lastPage } from './sheet/last-page.ts'
import { PAGE_STYLE } from './sheet/page-style.ts'
import { setListPage } from './sheet/set-list-page.ts'
import { songPage } from './sheet/song-page.ts'
import { songsReached } from './songs-reached.ts'

/**
 * A show to be printed and laid on the stands: one whole HTML page that needs nothing besides itself and runs nothing. The set list, then each song that
 * the night can come to on a sheet of its own, variants after their song, then controls and cautions.
 */
export function songSheet(show: Show): string {
  return html`${new Markup('<!DOCTYPE html>')}
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'" />
        <title>${show.title}: set list</title>
        <style>
          ${new Markup(PAGE_STYLE)}
        </style>
      </head>
      <body>
        <main>
          ${setListPage(show)}
          ${songsReached(show).map((song) => [songPage(show, song), '\n'])}${lastPage(show)}
        </main>
      </body>
    </html> `.text
}
