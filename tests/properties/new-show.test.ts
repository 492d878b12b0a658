import fc from 'fast-check'
import { expect, test } from 'vitest'
import { toHost } from '../../src/contract/to-host.ts'
import { checkShow } from '../../src/offline/check-show.ts'
import { newShow } from '../../src/show/new-show.ts'
import { parseShow } from '../../src/show/parse-show.ts'
import { formatShow } from '../../src/show/write-show.ts'
import { strategies } from '../../src/strategies/registry.ts'
import { arbitraryAnswers } from '../support/arbitrary-answers.ts'
import { checkProperty } from '../support/property.ts'

test('whatever the answers, the first show is valid, complete, and nothing in it is at fault but what was answered', () => {
  checkProperty(
    'first shows',
    fc.property(arbitraryAnswers(), (answers) => {
      expect(toHost.safeParse({ v: 1, type: 'new-show', answers }).success).toBe(true)
      const show = newShow(answers)
      const parsed = parseShow(formatShow(show), strategies)
      // The reader finds nothing to fill in and nothing to object to.
      expect(parsed).toMatchObject({ ok: true, show })
      expect(parsed.ok && formatShow(parsed.show)).toBe(formatShow(show))

      const faults = checkShow(show).filter(({ gravity }) => gravity === 'fault')
      // Watts / volts amps a lamp, 80 % of the supply usable (common practice): a lamp that is too heavy for its supply was answered so.
      const { volts, maxAmps, watts } = answers.supply
      const isTooHeavy = Math.round(watts * 1e6) > Math.floor(volts * maxAmps * 0.8 * 1e6 + 0.5)
      expect(faults.map(({ where }) => where)).toEqual(isTooHeavy ? ['$.rig.supplies[0]'] : [])

      const [song] = show.songs
      expect(song?.parts.map(({ player }) => player)).toEqual(show.players.map(({ id }) => id))
      expect(show.rig.lamps).toHaveLength(answers.lamps)
      const used = new Set(song?.parts.flatMap(({ lamps }) => lamps))
      // With enough of them every lamp is one player's own; with fewer somebody plays them all.
      // With enough of them every lamp is one player's own; with fewer somebody plays them all.
      const isEnough = answers.lamps >= 2 * answers.players.length
      const given = song?.parts.flatMap(({ lamps }) => lamps) ?? []
      expect(given.length === used.size || !isEnough).toBe(true)
      const onlyPads = answers.players.every(({ kind }) => kind === 'pads')
      expect(used.size === answers.lamps || (onlyPads && !isEnough)).toBe(true)
    }),
    300,
  )
})
