import { flashGuardOf } from '../../domain/flash-guard.ts'
import type { Show } from '../../domain/show.ts'
import { figure } from '../check/listed.ts'
import { FLASH_RULE, SHARE_RULE } from '../gig-check/flash-rule.ts'
import type { CheckedSong, GigCheck } from '../gig-check/gig-check.ts'
import { flashiestLamp } from '../gig-check/lamp-figures.ts'
import type { TakeResult } from '../gig-check/take-result.ts'
import type { Markup, Piece } from '../sheet/html.ts'
import { html, named } from '../sheet/html.ts'

/** A row for each take, as report.json has it, songs worst first. */
export function takesTable(show: Show, { songs }: GigCheck): Markup {
  return html`<div>
    <table class="takes">
      <caption>
        What was counted
      </caption>
      <thead>
        <tr>
          <th scope="col">Song, take</th>
          <th scope="col">Flash guard</th>
          <th scope="col">Length, s</th>
          <th scope="col">Flashes in a second: field</th>
          <th scope="col">One lamp</th>
          <th scope="col">3 to 30 Hz, s</th>
          <th scope="col">Under 60 Hz, s</th>
          <th scope="col">Lit at once, %</th>
          <th scope="col">In one flash, %</th>
          <th scope="col">Most drawn, A</th>
        </tr>
      </thead>
      <tbody>
        ${songs.map((song) => songRows(show, song))}
      </tbody>
    </table>
    <p class="aside">
      ${FLASH_RULE}. ${SHARE_RULE}. Shares are of all lamps of the rig. The band of most concern is 3 to 30 Hz
      (epilepsy charities, second-hand); some people see light flicker up to 60 Hz.
    </p>
  </div>`
}

function songRows(show: Show, { song, takes }: CheckedSong): Piece {
  const guard = flashGuardOf(show, song)
  const action = guard.action === 'off' ? `off since ${guard.since}` : guard.action
  if (takes.length === 0) {
    return html`<tr>
      <th scope="row">${named(song.title)}</th>
      <td>${action}</td>
      <td colspan="8">no take: nothing counted</td>
    </tr>`
  }
  return takes.map((take) => takeRow(song.title, action, take))
}

function takeRow(title: string, action: string, take: TakeResult): Markup {
  const head = html`<th scope="row">${named(title)}<br /><span class="aside">${named(take.take)}</span></th>
    <td>${action}</td>`
  if (!take.ok) {
    return html`<tr>
      ${head}
      <td colspan="8">could not be counted</td>
    </tr>`
  }
  const { seconds, flash, supplies } = take.report
  const lamp = flashiestLamp(flash)
  const drawn = Object.entries(supplies).map(
    ([id, { peakAmps }], index) => html`${index === 0 ? '' : '; '}${named(id)} ${figure(peakAmps, 3)}`,
  )
  return html`<tr>
    ${head}
    <td>${figure(seconds, 3)}</td>
    <td>${flash.fieldPerSecondMax}</td>
    <td>${lamp ? [lamp.perSecondMax, ', ', named(lamp.id)] : '0'}</td>
    <td>${figure(flash.bandSeconds, 3)}</td>
    <td>${figure(flash.under60Seconds, 3)}</td>
    <td>${figure(flash.litShareMax * 100, 3)}</td>
    <td>${figure(flash.flashShareMax * 100, 3)}</td>
    <td>${drawn}</td>
  </tr>`
}
