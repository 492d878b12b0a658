import { CAUTIONS } from '../../domain/cautions.ts'
import type { Show } from '../../domain/show.ts'
import type { Control } from '../../domain/switching.ts'
import { actWords, gestureWords } from './control-words.ts'
import type { Markup } from './html.ts'
import { html, named } from './html.ts'

/** The last page: everything that is not played but changes songs, and the cautions. */
export function lastPage(show: Show): Markup {
  const { controls } = show.switching
  return html`<section class="plate">
    <header class="label">
      <div>
        <p class="over">${named(show.title)}</p>
        <h2>Controls and cautions</h2>
      </div>
    </header>
    ${
      controls.length === 0
        ? html`<p>No player’s instrument changes songs: they are chosen on a screen.</p>`
        : html`<table class="controls">
              <caption>
                Controls: what is not played but changes songs
              </caption>
              <thead>
                <tr>
                  <th scope="col">Player</th>
                  <th scope="col">Does</th>
                  <th scope="col">What comes of it</th>
                </tr>
              </thead>
              <tbody>
                ${controls.map((control) => controlRow(show, control))}
              </tbody>
            </table>
            <p class="aside">
              Program changes are counted from 0, as they are sent; an instrument that counts from 1 shows one
              more.
            </p>`
    }
    <section class="cautions">
      <h3>Cautions</h3>
      ${CAUTIONS.map((caution) => html`<p>${caution}</p> `)}
    </section>
  </section>`
}

function controlRow(show: Show, { player: id, on, do: act }: Control): Markup {
  const player = show.players.find((one) => one.id === id)
  return html`<tr>
    <th scope="row">${named(player?.name ?? id)}</th>
    <td>${gestureWords(on, player)}</td>
    <td>${actWords(show, act)}</td>
  </tr>`
}
