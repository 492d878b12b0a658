import fc from 'fast-check'
import { expect, test } from 'vitest'
import { Door } from '../../../app/engine/host/web/door.ts'
import { RANDOM } from '../../../app/engine/host/web/secrets.ts'
import { countedSecrets } from '../../support/counted-secrets.ts'
import { checkProperty } from '../../support/property.ts'

interface Try {
  readonly afterMs: number
  readonly isLoopback: boolean
  readonly key?: string | undefined
  readonly code?: string | undefined
}

/** Nothing of what `countedSecrets` draws. */
const wrongKey = fc.oneof(fc.string(), fc.constantFrom('', 'key-', 'key-00', 'key-0 ', 'KEY-0', 'key-1000'))
const wrongCode = fc.oneof(
  fc.string().filter((text) => !/^0000\d\d$/.test(text)),
  fc.integer({ min: 100_000, max: 999_999 }).map(String),
)

const tries = (code: fc.Arbitrary<string>): fc.Arbitrary<Try[]> =>
  fc.array(
    fc.record(
      {
        afterMs: fc.oneof(fc.constant(0), fc.nat(1_000), fc.nat(1_000_000)),
        isLoopback: fc.boolean(),
        key: wrongKey.filter((text) => !/^key-\d{1,2}$/.test(text)),
        code,
      },
      { requiredKeys: ['afterMs', 'isLoopback'] },
    ),
    { maxLength: 60 },
  )

test('no sequence of wrong keys and codes comes in, and the right ones still do', () => {
  checkProperty(
    'wrong guesses',
    fc.property(tries(wrongCode), fc.boolean(), (guesses, letsRemote) => {
      const door = new Door({ letsRemote, secrets: countedSecrets() })
      let now = 0
      for (const { afterMs, isLoopback, ...pass } of guesses) {
        now += afterMs
        expect(door.enter(pass, isLoopback, now).ok).toBe(false)
      }
      expect(door.enter({ key: 'key-0' }, true, now).ok).toBe(true)
      const opens = door.enter({ code: door.code }, false, now)
      const opensLater =
        !opens.ok && letsRemote && door.enter({ code: door.code }, false, now + opens.again).ok
      expect(opens.ok || opensLater).toBe(letsRemote)
    }),
  )
})

test('whoever guesses as fast as the door lets them has few codes compared, however long they go on', () => {
  checkProperty(
    'brute force',
    fc.property(
      fc.integer({ min: 1, max: 48 }).map((hours) => hours * 3_600_000),
      fc.infiniteStream(fc.nat(999_999).map((code) => String(code).padStart(6, '0'))),
      (span, guesses) => {
        let drawn = 0
        // A code that is never guessed, so that all of the span is used.
        const secrets = { ...RANDOM, drawCode: () => `code-${drawn++}` }
        const door = new Door({ letsRemote: true, secrets })
        let compared = 0
        for (let now = 0; now < span;) {
          const answer = door.enter({ code: guesses.next().value }, false, now)
          if (answer.ok) throw new Error('a wrong code came in')
          if (answer.why === 'wrong code') compared += 1
          now += Math.max(1, answer.again)
        }
        // Five for each closing: 30 + 60 + 120 + 240 + 480 s, then one in ten minutes.
        expect(compared).toBeLessThanOrEqual(5 * (6 + Math.ceil((span - 930_000) / 600_000)))
        expect(drawn).toBeGreaterThanOrEqual(compared / 5)
      },
    ),
    200,
  )
})

test('a code that was used, or was there before the door closed, comes in no more', () => {
  checkProperty(
    'old codes',
    fc.property(fc.array(fc.constantFrom('right', 'wrong'), { maxLength: 60 }), (moves) => {
      const door = new Door({ letsRemote: true, secrets: countedSecrets() })
      const old: string[] = []
      let now = 0
      for (const move of moves) {
        const { code } = door
        const answer = door.enter({ code: move === 'right' ? code : 'wrong' }, false, now)
        expect(answer.ok).toBe(move === 'right')
        if (!answer.ok) now += answer.again
        if (door.code !== code) old.push(code)
      }
      for (const code of old) {
        const answer = door.enter({ code }, false, now)
        expect(answer.ok).toBe(false)
        if (!answer.ok) now += answer.again
      }
    }),
  )
})
