import type { Show } from '../../domain/show.ts'
import type { Song } from '../../domain/song.ts'
import { listed } from '../check/listed.ts'
import { titleOf } from './control-words.ts'
import { guardsApart } from './guard-words.ts'
import type { Markup, Piece } from './html.ts'
import { allNamed, html, named } from './html.ts'
import { lampsTable } from './lamps-table.ts'
import { wanderWords } from './motion-words.ts'
import { partsTable } from './parts-table.ts'
import { beatsWords, enterWords, lengthWords, tempoWords, tuningWords, whenWords } from './song-words.ts'
import { sprig } from './sprig.ts'
import { waysTable } from './ways-table.ts'

/** A song on a page of its own: what it is, who does what in it, which lamps, and how one comes to it. */
export function songPage(show: Show, song: Song): Markup {
  return html`<section class="plate">
    <header class="label">
      <div>
        <p class="over">${named(show.title)}, ${placeWords(show, song)}</p>
        <h2>${named(song.title)}</h2>
        <dl>
          ${facts(show, song).map(
            ([name, words]) =>
              html`<div>
                <dt>${name}</dt>
                <dd>${words}</dd>
              </div>`,
          )}
        </dl>
      </div>
      ${sprig(song.parts.length)}
    </header>
    ${
      song.notes.trim() === ''
        ? ''
        : html`<div>
            <h3>For the players</h3>
            <p class="notes" dir="auto">${song.notes.trim()}</p>
          </div>`
    }
    ${waysTable(show, song)}
    ${song.parts.length === 0 ? html`<p>No parts: every lamp stays dark.</p>` : [partsTable(show, song), lampsTable(show, song)]}
  </section>`
}

function placeWords(show: Show, song: Song): string {
  const places = show.setList.flatMap((id, index) => (id === song.id ? [String(index + 1)] : []))
  if (places.length === 0) return 'not a place of its own'
  return `${places.length === 1 ? 'place' : 'places'} ${listed(places, 12)} of ${show.setList.length}`
}

function facts(show: Show, song: Song): readonly (readonly [string, Piece])[] {
  const tuning = show.tunings.find(({ id }) => id === song.tuning)
  const variants = show.songs.filter(({ variantOf }) => variantOf === song.id)
  return [
    ['Tempo', tempoWords(song.tempo)],
    ['Beats', beatsWords(song.beats)],
    ['Tuning', tuning ? [named(song.tuning), `: ${tuningWords(tuning)}`] : named(song.tuning)],
    ...(song.wander ? [['Lamps drift', wanderWords(song.wander)] as const] : []),
    ...guardsApart(show, [song]).map(({ words }) => ['Flash guard', words] as const),
    ['Enters', enterWords(song.enter)],
    ['When', whenWords(song.enterAt ?? show.switching.enterAt)],
    ...(song.minutes === undefined ? [] : [['Planned', lengthWords(song.minutes)] as const]),
    ...(song.variantOf === undefined ? [] : [['Variant of', named(titleOf(show, song.variantOf))] as const]),
    ...(variants.length === 0 ? [] : [['Variants', allNamed(variants.map(({ title }) => title))] as const]),
    ...(song.skip ? [['Skipped', 'next and previous pass over it'] as const] : []),
  ]
}
