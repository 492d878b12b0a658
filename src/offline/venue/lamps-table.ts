import type { Lamp } from '../../domain/rig.ts'
import { lampAmps } from '../../domain/rig.ts'
import type { Show } from '../../domain/show.ts'
import { figure } from '../check/listed.ts'
import type { Markup } from '../sheet/html.ts'
import { html, named } from '../sheet/html.ts'

/** Every lamp, what it draws and what it is said to bear. */
export function lampsTable(show: Show): Markup {
  return html`<table class="lamps">
    <caption>
      Lamps
    </caption>
    <thead>
      <tr>
        <th scope="col">Lamp</th>
        <th scope="col">Supply</th>
        <th scope="col">On: W</th>
        <th scope="col">On: A</th>
        <th scope="col">Said to bear in the mean</th>
      </tr>
    </thead>
    <tbody>
      ${show.rig.lamps.map((lamp) => lampRow(show, lamp))}
    </tbody>
  </table>`
}

function lampRow({ rig }: Show, lamp: Lamp): Markup {
  const supply = rig.supplies.find(({ id }) => id === lamp.supply)
  const { heat } = lamp
  return html`<tr>
    <th scope="row">${named(lamp.name)}</th>
    <td>${named(lamp.supply)}</td>
    <td>${figure(lamp.watts)}</td>
    <td>${supply ? figure(lampAmps(lamp, supply), 3) : 'not known'}</td>
    <td>${heat ? `${figure(heat.meanWatts)} W, in ${figure(heat.seconds)} s` : 'not said'}</td>
  </tr>`
}
