import { describe, expect, test } from 'vitest'
import type { FlashGuard } from '../../../src/domain/flash-guard.ts'
import type { LampIndex } from '../../../src/domain/ids.ts'
import type { LampState } from '../../../src/domain/lamp-state.ts'
import type { Micros } from '../../../src/domain/units.ts'
import type { Wish } from '../../../src/domain/wish.ts'
import type { FlashGuardOut, GlowLight } from '../../../src/guards/flash.ts'
import { flashGuard } from '../../../src/guards/flash.ts'
import { StageRun } from '../../support/stage-run.ts'
import { darkens, lights, wishes } from '../../support/wishing.ts'

const ms = (time: number): Micros => time * 1000
const GLOW: GlowLight = {
  hz: 25_000,
  realHz: 25_000,
  cents: 0,
  drive: { kind: 'timer', rate: 25_000 * 65_536, prescaler: 1, top: 639 },
}

/** A guard over three lamps, and lamps that do what it lets through. */
class Field {
  readonly run: StageRun<never, never, never, FlashGuardOut>
  readonly lamps: LampState[] = Array.from({ length: 3 }, () => ({ on: false }))
  /** A line for each change: when, and what is lit, a glow as a ring. */
  readonly picture: string[] = []
  readonly told: string[] = []

  constructor(guard: FlashGuard, glows: readonly (GlowLight | null)[] = [GLOW, GLOW, null]) {
    this.run = new StageRun(flashGuard, { guard, glows }) as never
  }

  at(time: Micros, ...asked: Wish[]): void {
    this.until(time)
    this.#take(time, this.run.at(time, wishes(...asked) as never))
  }

  darkAll(time: Micros): void {
    this.until(time)
    const asked = this.lamps.map((_, lamp) => darkens(lamp))
    this.#take(time, this.run.at(time, { ...wishes(...asked), isDark: true } as never))
  }

  becomes(guard: FlashGuard, time: Micros): void {
    this.until(time)
    this.#take(time, this.run.at(time, { kind: 'guard', guard, glows: [GLOW, GLOW, null] } as never))
  }

  until(time: Micros): void {
    while (this.run.wakeAt !== undefined && this.run.wakeAt <= time) {
      const at = this.run.wakeAt
      this.#take(
        at,
        this.run.wakeUpTo(at).map(({ out }) => out),
      )
    }
  }

  #take(time: Micros, said: readonly FlashGuardOut[]): void {
    const changes: { lamp: string; index: LampIndex; state: LampState }[] = []
    for (const out of said) {
      if (out.kind !== 'wishes') this.told.push(`${time / 1000} ${out.kind} ${out.lamp}`)
      else
        for (const { lamp, state } of out.wishes) {
          this.lamps[lamp] = state
          changes.push({ lamp: `lamp ${lamp}`, index: lamp, state })
        }
    }
    if (changes.length === 0) return
    this.run.at(time, { kind: 'done', changes } as never)
    const now = this.lamps.map((lamp) => (lamp.on ? (lamp.glow ? 'o' : '*') : '.')).join('')
    this.picture.push(`${time / 1000} ${now}`)
  }
}

/** On for 50 ms, off for 50 ms, so many times. */
function gated(field: Field, times: number, ...lamps: LampIndex[]): void {
  for (let n = 0; n < times; n++) {
    field.at(ms(100 * n), ...lamps.map((lamp) => lights(lamp, n + 1)))
    field.at(ms(100 * n + 50), ...lamps.map(darkens))
  }
}

describe('limit', () => {
  test('six changes in a second, three flashes: of a lamp gated ten times a second two gaps stay, and it is tied until a second after the change that is one too many', () => {
    const field = new Field({ action: 'limit', changes: 6 })
    gated(field, 10, 0)
    field.until(ms(4000))
    const gaps = field.picture.flatMap((line) => (line.endsWith('...') ? [Number.parseFloat(line)] : []))
    // Lit at 0, dark and lit at 50 and 100, at 150 and 200: five. A fall more would leave no room for the next note.
    expect(gaps).toEqual([50, 150, 1010])
    expect(field.told.slice(0, 2)).toEqual(['250 tied 0', '350 tied 0'])
    expect(field.lamps.every(({ on }) => !on)).toBe(true)
  })

  test('a note never waits: it lights whatever came before', () => {
    const field = new Field({ action: 'limit', changes: 2 })
    gated(field, 5, 0)
    const struck = field.run.said.flatMap(({ at, out }) =>
      out.kind === 'wishes' && out.wishes.some(({ state }) => state.on) ? [at] : [],
    )
    expect(struck).toEqual([0, 100, 200, 300, 400].map(ms))
  })

  test('the lamp that a voice leaves is tied where it would go dark as the next one lights, and all that were go dark in one moment', () => {
    const field = new Field({ action: 'limit', changes: 2 })
    field.at(ms(0), lights(0, 1))
    field.at(ms(100), darkens(0), lights(1, 2))
    field.at(ms(200), darkens(1), lights(2, 3))
    field.at(ms(300), darkens(2))
    field.until(ms(3000))
    expect(field.picture).toEqual(['0 *..', '100 **.', '200 ***', '1010 ...'])
    expect(field.told).toEqual(['100 tied 0', '200 tied 1', '300 tied 2'])
  })

  test('while some go dark one after another and none lights, it is one fall', () => {
    const field = new Field({ action: 'limit', changes: 2 })
    field.at(ms(0), lights(0, 1), lights(1, 2), lights(2, 3))
    field.at(ms(1010), darkens(0))
    field.at(ms(1020), darkens(1))
    field.at(ms(1030), darkens(2))
    expect(field.picture).toEqual(['0 ***', '1010 .**', '1020 ..*', '1030 ...'])
    expect(field.told).toEqual([])
  })

  test('a tied lamp that is struck again is not darkened later', () => {
    const field = new Field({ action: 'limit', changes: 2 })
    field.at(ms(0), lights(0, 1))
    field.at(ms(100), darkens(0))
    field.at(ms(200), lights(0, 2))
    field.until(ms(5000))
    expect(field.picture).toEqual(['0 *..', '200 *..'])
  })

  test('whoever darkens everything is not held up', () => {
    const field = new Field({ action: 'limit', changes: 2 })
    field.at(ms(0), lights(0, 1), lights(1, 2))
    field.at(ms(10), darkens(0))
    field.darkAll(ms(20))
    expect(field.picture.at(-1)).toBe('20 ...')
    expect(field.run.wakeAt).toBeUndefined()
  })

  test('a guard that becomes another lets go of what it held, and counts on from what was', () => {
    const field = new Field({ action: 'limit', changes: 2 })
    field.at(ms(0), lights(0, 1))
    field.at(ms(100), darkens(0))
    field.becomes({ action: 'warn' }, ms(200))
    expect(field.picture.at(-1)).toBe('200 ...')
    field.at(ms(300), lights(0, 2))
    field.becomes({ action: 'limit', changes: 4 }, ms(310))
    field.at(ms(320), darkens(0))
    // Lit, dark and lit again since 0: a fall more leaves no room.
    expect(field.told.at(-1)).toBe('320 tied 0')
    field.becomes({ action: 'limit', changes: 6 }, ms(330))
    expect(field.picture.at(-1)).toBe('330 ...')
  })
})

describe('glow', () => {
  test('between notes a lamp stays lit as brightly, above hearing, until so long after the last; one whose output cannot goes dark', () => {
    const field = new Field({ action: 'glow', seconds: 2, hz: 25_000 })
    field.at(ms(0), lights(0, 1, { duty: 0.3, part: 'lead', player: 'keys' }), lights(2, 2))
    field.at(ms(50), darkens(0), darkens(2))
    const glowing = field.lamps[0]
    expect(glowing).toMatchObject({ on: true, glow: true, note: 0, duty: 0.3, realHz: 25_000, part: 'lead' })
    field.at(ms(100), lights(0, 3), lights(1, 4))
    field.at(ms(150), darkens(1))
    field.at(ms(500), darkens(0))
    field.until(ms(5000))
    expect(field.picture).toEqual(['0 *.*', '50 o..', '100 **.', '150 *o.', '500 oo.', '2500 ...'])
    expect(field.told).toEqual(['50 glowed 0', '150 glowed 1', '500 glowed 0'])
  })

  test('it goes on while any lamp sounds', () => {
    const field = new Field({ action: 'glow', seconds: 0.5, hz: 25_000 })
    field.at(ms(0), lights(0, 1), lights(1, 2))
    field.at(ms(100), darkens(0))
    field.until(ms(60_000))
    expect(field.picture.at(-1)).toBe('100 o*.')
  })

  test('whoever darkens everything is not held up, and another guard keeps none lit', () => {
    const field = new Field({ action: 'glow', seconds: 5, hz: 25_000 })
    field.at(ms(0), lights(0, 1), lights(1, 2))
    field.at(ms(50), darkens(0))
    field.darkAll(ms(100))
    expect(field.picture.at(-1)).toBe('100 ...')
    field.at(ms(200), lights(0, 3))
    field.at(ms(250), darkens(0))
    field.becomes({ action: 'warn' }, ms(300))
    expect(field.picture.at(-1)).toBe('300 ...')
  })

  test('a lamp that was only lit to be found does not stay lit', () => {
    const field = new Field({ action: 'glow', seconds: 5, hz: 25_000 })
    field.at(ms(0), lights(0, 0, { player: '', part: '' }))
    field.at(ms(2000), darkens(0))
    expect(field.picture.at(-1)).toBe('2000 ...')
  })
})

test.each<FlashGuard>([{ action: 'warn' }, { action: 'fold' }, { action: 'off', since: '2026-11-25' }])(
  '$action: everything goes through as it was asked',
  (guard) => {
    const field = new Field(guard)
    gated(field, 5, 0, 2)
    expect(field.picture).toHaveLength(10)
    expect(field.told).toEqual([])
  },
)
