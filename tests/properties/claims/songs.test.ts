import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Show } from '../../../src/domain/show.ts'
import type { TapEvent } from '../../../src/graph/tap.ts'
import { arbitraryPlaying, lettingGo } from '../../support/arbitrary-playing.ts'
import { arbitraryShow } from '../../support/arbitrary-show.ts'
import { ClaimBook } from '../../support/claim-book.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { checkProperty } from '../../support/property.ts'

/** The claims of a show's first song, by what its players are heard to do. */
class SongClaims {
  readonly #show: Show
  readonly #book: ClaimBook
  /** Per part: its player's notes and their keys. */
  readonly #keys: readonly Map<number, number>[]

  constructor(show: Show) {
    this.#show = show
    const lampOf = (id: string): number => show.rig.lamps.findIndex((lamp) => lamp.id === id)
    this.#book = new ClaimBook(this.#parts.map(({ lamps, claim }) => ({ lamps: lamps.map(lampOf), claim })))
    this.#keys = this.#parts.map(() => new Map())
  }

  get #parts() {
    return this.#show.songs[0]?.parts ?? []
  }

  hear(heard: TapEvent): void {
    if (heard.kind !== 'player') return
    const { player, event, at } = heard
    this.#parts.forEach((part, index) => {
      const keys = this.#keys[index]
      if (part.player !== player || !keys) return
      if (event.kind === 'all-off') {
        keys.clear()
        this.#book.ends(index, at, Infinity)
      }
      if (event.kind !== 'note-on' && event.kind !== 'note-rekey' && event.kind !== 'note-off') return
      // A note goes by the key it has: one that is put right may come into a part's keys, or leave them.
      const [low, high] = part.notes
      const isOwn = (key = -1): boolean => key >= low && key <= high
      const before = keys.get(event.note)
      if (event.kind === 'note-rekey' && before === undefined) return
      if (event.kind === 'note-off') keys.delete(event.note)
      else keys.set(event.note, event.key)
      const now = keys.get(event.note)
      if (isOwn(now) && !isOwn(before)) this.#book.strikes(index, at)
      if (isOwn(before) && !isOwn(now)) this.#book.ends(index, at)
    })
  }

  darkAll(): void {
    this.#book.darkAll()
  }

  /** Per lamp: the part whose claim it should be. */
  holders(now: number): (string | undefined)[] {
    return this.#show.rig.lamps.map((_, lamp) => this.#parts[this.#book.holder(lamp, now)]?.id)
  }
}

test('at every moment each lamp is held by the claim that comes first, and lit by nobody else', () => {
  checkProperty(
    'claims in a song',
    fc.property(
      arbitraryShow({ held: false, clock: false }),
      arbitraryPlaying,
      fc.nat(60),
      (show, playing, darkAt) => {
        const run = new GraphRun(show)
        const claims = new SongClaims(show)
        run.graph.tap$.subscribe((event) => claims.hear(event))
        const look = (at: number): void => {
          const { claimed, lamps } = run.graph
          expect(claimed).toEqual(claims.holders(at))
          const lit = lamps.map((lamp) => (lamp.on ? lamp.part : undefined))
          expect(lit.filter((part, index) => part && claimed[index] && part !== claimed[index])).toEqual([])
        }
        let at = 0
        playing.forEach(({ player, bytes, after }, index) => {
          at += after
          run.graph.advance(at)
          look(at)
          run.graph.play(player, bytes, at)
          run.graph.advance(at)
          look(at)
          if (index === darkAt) {
            run.graph.darkAll(++at)
            claims.darkAll()
            look(at)
          }
          at++
        })
        run.graph.advance(at)
        run.play(lettingGo(), at)
        run.runOut()
        look(run.graph.now)
        expect(run.litLamps()).toEqual([])
        run.graph.darkAll(run.graph.now + 1)
        const always = new Set(
          show.songs[0]?.parts.flatMap(({ lamps, claim }) => (claim?.when === 'always' ? lamps : [])),
        )
        const held = show.rig.lamps.filter((_, index) => run.graph.claimed[index] !== undefined)
        expect(new Set(held.map(({ id }) => id))).toEqual(always)
      },
    ),
  )
})
