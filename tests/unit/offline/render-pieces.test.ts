import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { readMidiFile } from '../../../src/midi/file-read.ts'
import { render, renderInPieces } from '../../../src/offline/render.ts'
import { routeTake } from '../../../src/offline/take.ts'
import type { Take } from '../../../src/offline/take.ts'
import { DEMO_TAKE, demoShow } from '../../support/demo.ts'
import { glasshouse, GLASSHOUSE_LAMPS } from '../../support/shows.ts'
import { takeFile } from '../../support/song-takes.ts'
import { validShow } from '../../support/valid-show.ts'

function takeOf(bytes: Uint8Array, show = demoShow()): Take {
  const read = readMidiFile(bytes)
  const routed = read.ok ? routeTake(read.file, show) : undefined
  if (!routed?.ok) throw new Error('the take cannot be read')
  return routed.take
}

/** How much is done after each piece. */
function pieces(...given: Parameters<typeof renderInPieces>): { done: number[]; result: unknown } {
  const run = renderInPieces(...given)
  const done: number[] = []
  for (;;) {
    const piece = run.next()
    if (piece.done === true) return { done, result: piece.value }
    done.push(piece.value)
  }
}

test('in pieces comes to what it comes to at once, lines and all', () => {
  const take = takeOf(Uint8Array.from(readFileSync(DEMO_TAKE)))
  const lines: [string[], string[]] = [[], []]
  const whole = render(demoShow(), 'dew', take, { lamp: (line) => lines[0].push(line) })
  const { done, result } = pieces(demoShow(), 'dew', take, { lamp: (line) => lines[1].push(line) })
  expect(result).toEqual(whole)
  expect(lines[1]).toEqual(lines[0])
  expect(done.length).toBeGreaterThan(take.events.length / 16 - 1)
  expect(done).toEqual(done.toSorted((a, b) => a - b))
  expect(done.at(-1)).toBeGreaterThan(0.9)
  expect(done.at(-1)).toBeLessThanOrEqual(1)
})

test('a voice that goes on by itself for a minute is not one piece', () => {
  const show = validShow(
    glasshouse({
      songs: [
        {
          id: 'tide',
          title: 'Tide table',
          parts: [
            {
              id: 'lead',
              player: 'keys',
              lamps: [...GLASSHOUSE_LAMPS],
              strategy: { kind: 'travel', move: { everyMs: 90 } },
            },
          ],
        },
      ],
    }),
  )
  const { done } = pieces(show, 'tide', takeOf(takeFile({ keys: [[60, 0, 60_000]] }), show))
  expect(done.length).toBeGreaterThan(55)
})

test('whoever wants no more of it may leave it', () => {
  const run = renderInPieces(demoShow(), 'dew', takeOf(Uint8Array.from(readFileSync(DEMO_TAKE))))
  expect(run.next().done).toBe(false)
  expect(run.return(undefined as never).done).toBe(true)
  expect(run.next().done).toBe(true)
})
