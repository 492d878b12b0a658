import type { Show } from '../../domain/show.ts'
import { figure } from '../check/listed.ts'
import type { NightFigures } from '../gig-check/night-figures.ts'
import type { SupplyPlan } from '../notice/supply-plan.ts'
import { supplyPlans } from '../notice/supply-plan.ts'
import type { Markup, Piece } from '../sheet/html.ts'
import { html, named } from '../sheet/html.ts'

/** What each supply was planned for and what was counted, with room for the fuse that somebody looks up. */
export function powerTable(show: Show, night: NightFigures): Markup {
  return html`<div>
    <table class="power">
      <caption>
        Supplies
      </caption>
      <thead>
        <tr>
          <th scope="col">Supply</th>
          <th scope="col">Volts</th>
          <th scope="col">Lamps</th>
          <th scope="col">All lit, W</th>
          <th scope="col">All lit, A</th>
          <th scope="col">Planned, A</th>
          <th scope="col">Most counted, A</th>
          <th scope="col">Mean counted, A</th>
          <th scope="col">Fuse there, A (write in)</th>
        </tr>
      </thead>
      <tbody>
        ${supplyPlans(show, night.most).map(supplyRow)}
      </tbody>
    </table>
    <p class="aside">
      A lamp draws its watts over the volts of its supply while it is on, and all that are lit count as on at
      one time; planned is what a supply is to give at most. The most and the mean are of the take that came
      to most. None of it is measured, and none of it is a fuse: one that fits the thinnest wire belongs in
      every supply line.
    </p>
  </div>`
}

function supplyRow({ supply, lamps, limitAmps, allAmps, allWatts, peak, mean }: SupplyPlan): Markup {
  const { id, volts, maxAmps, usable } = supply
  return html`<tr>
    <th scope="row">${named(id)}</th>
    <td>${figure(volts)}</td>
    <td>${lamps.length}</td>
    <td>${figure(allWatts)}</td>
    <td>${figure(allAmps, 3)}</td>
    <td>${figure(limitAmps, 3)} (${figure(usable * 100)} % of ${figure(maxAmps)})</td>
    <td>${drawn(peak)}</td>
    <td>${drawn(mean)}</td>
    <td class="blank">&nbsp;</td>
  </tr>`
}

function drawn(most: SupplyPlan['peak']): Piece {
  return most ? [figure(most.value, 3), ', ', named(most.song.title)] : 'not counted'
}
