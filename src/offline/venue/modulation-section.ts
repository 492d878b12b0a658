import { MODULATION_LINES } from '../../domain/modulation-limits.ts'
import type { Show } from '../../domain/show.ts'
import { grouped } from '../check/grouped.ts'
import { figure } from '../check/listed.ts'
import type { GigCheck } from '../gig-check/gig-check.ts'
import { nightRates } from '../gig-check/night-rates.ts'
import { modulationPicture } from '../modulation-picture.ts'
import type { ModulationRow } from '../modulation-rows.ts'
import { modulationCaption, modulationRows } from '../modulation-rows.ts'
import type { Piece } from '../sheet/html.ts'
import { html, Markup, named } from '../sheet/html.ts'

const MOST_RATES = 3

/** Percent modulation against rate of all takes together, as a picture and as rows that say the same. */
export function modulationSection(show: Show, gig: GigCheck): Piece {
  const figures = { lamps: nightRates(gig) }
  const names = new Map(show.rig.lamps.map(({ id, name }) => [id, name]))
  const rows = modulationRows(figures, names)
  if (rows.length === 0)
    return html`<p>No lamp was lit in a take that was counted: there is nothing to draw.</p>`
  const [one, two] = MODULATION_LINES
  return [
    html`<figure class="modulation">
      ${new Markup(modulationPicture(figures, names))}
      <figcaption class="aside">${modulationCaption()}</figcaption>
    </figure>`,
    html`<table class="rates">
      <caption>
        The same in figures, of all takes together
      </caption>
      <thead>
        <tr>
          <th scope="col">Lamp</th>
          <th scope="col">Modulation, %</th>
          <th scope="col">Rates, Hz</th>
          <th scope="col">Longest at, Hz (s)</th>
          <th scope="col">Over ${one.name}, s</th>
          <th scope="col">Over ${two.name}, s</th>
        </tr>
      </thead>
      <tbody>
        ${[...grouped(rows, ({ lamp }) => lamp).values()].map(lampRow)}
      </tbody>
    </table>`,
  ]
}

function lampRow(rows: readonly ModulationRow[]): Markup {
  const [first] = rows
  if (!first) return html``
  const rates = rows.map(({ hz }) => hz)
  const longest = rows.slice(0, MOST_RATES).map(({ hz, seconds }) => `${figure(hz)} (${figure(seconds, 3)})`)
  return html`<tr>
    <th scope="row">${named(first.name)}</th>
    <td>${figure(first.percent)}</td>
    <td>${figure(Math.min(...rates))} to ${figure(Math.max(...rates))}</td>
    <td>${longest.join('; ')}</td>
    <td>${secondsOver(rows, 0)}</td>
    <td>${secondsOver(rows, 1)}</td>
  </tr>`
}

/** How long the lamp was lit at rates at which the line allows less than it does. */
function secondsOver(rows: readonly ModulationRow[], line: 0 | 1): string {
  const over = rows.filter(({ percent, limits }) => percent > (limits[line] ?? Infinity))
  return figure(
    over.reduce((sum, { seconds }) => sum + seconds, 0),
    3,
  )
}
