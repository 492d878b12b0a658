import { CAUTIONS } from '../../domain/cautions.ts'
import type { Show } from '../../domain/show.ts'
import { counted } from '../check/listed.ts'
import type { GigCheck } from '../gig-check/gig-check.ts'
import { nightFigures } from '../gig-check/night-figures.ts'
import { audienceNotice } from '../notice/audience-notice.ts'
import { venueNotice } from '../notice/venue-notice.ts'
import type { Piece } from '../sheet/html.ts'
import { html, Markup, named } from '../sheet/html.ts'
import { PAGE_STYLE } from '../sheet/page-style.ts'
import { foundSection } from './found-section.ts'
import { lampsTable } from './lamps-table.ts'
import { modulationSection } from './modulation-section.ts'
import { noticeSections } from './notice-sections.ts'
import { powerTable } from './power-table.ts'
import { takesTable } from './takes-table.ts'
import { VENUE_STYLE } from './venue-style.ts'

/**
 * A show for the people of the house it is played in, to be printed: one whole HTML page that needs nothing besides itself and runs nothing. What was counted of it, with
 * the tables behind it, what nobody knows, who makes it dark, a notice for the audience, cautions. `date`: year-month-day, of the performance or of the page.
 */
export function venuePage(show: Show, gig: GigCheck, { date }: { readonly date: string }): string {
  const night = nightFigures(gig)
  const forVenue = venueNotice(show, night)
  const forAudience = audienceNotice(show, night)
  const { songs } = gig
  return html`${new Markup('<!DOCTYPE html>')}
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'" />
        <title>${show.title}: for the venue</title>
        <style>
          ${new Markup(PAGE_STYLE + VENUE_STYLE)}
        </style>
      </head>
      <body>
        <main>
          <section class="plate">
            <header class="label">
              <div>
                <p class="over">For the venue, ${date}</p>
                <h1>${named(show.title)}</h1>
                <p>
                  ${counted(songs.length, 'song')}, ${counted(night.takes, 'take')} counted. These are counts
                  and what somebody typed: no measurement, and no judgement.
                </p>
              </div>
            </header>
            ${noticeSections(forVenue, 1)}
          </section>
          ${plate(show, 'Power and lamps', [powerTable(show, night), lampsTable(show)])}
          ${plate(show, 'Song by song, worst first', [takesTable(show, gig), foundSection(gig)])}
          ${plate(show, 'Percent modulation against rate', [modulationSection(show, gig)])}
          <section class="plate">
            <div class="for-audience">
              <p class="over">To be read before coming in</p>
              <h2>${forAudience.heading}</h2>
              ${noticeSections(forAudience, 2)}
            </div>
          </section>
          ${plate(show, 'Cautions', [html`<div class="cautions">${CAUTIONS.map((one) => html`<p>${one}</p> `)}</div>`])}
        </main>
      </body>
    </html> `.text
}

function plate(show: Show, heading: string, pieces: readonly Piece[]): Markup {
  return html`<section class="plate">
    <header class="label">
      <div>
        <p class="over">${named(show.title)}</p>
        <h2>${heading}</h2>
      </div>
    </header>
    ${pieces}
  </section>`
}
