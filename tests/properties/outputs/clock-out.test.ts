import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { ClockOutIn } from '../../../src/outputs/clock-out.ts'
import { ClockRun } from '../../support/clock-run.ts'
import { checkProperty } from '../../support/property.ts'

type Kind = 'tempo' | 'start' | 'stop' | 'go-on'

/** Ten-thousandths of a beat a minute. */
const tempo = fc.integer({ min: 100_000, max: 10_000_000 })
const deed = fc.record({
  after: fc.integer({ min: 2_000, max: 600_000 }),
  kind: fc.constantFrom<Kind>('tempo', 'start', 'stop', 'go-on'),
  tempo,
})

/** A clock, in ten-thousandths of a beat a minute times microseconds: 60 s / 24 (MIDI 1.0 Detailed Specification: 24 clocks a quarter note). */
const CLOCK = 25_000_000_000n

/** Where the beats are, in whole numbers, and how many clocks are to have been sent at any time. */
class Exact {
  at = 0
  tempo = 0n
  /** Since beat 0 while they move; else only for the tempo. */
  place = 0n
  /** Where they stand still. */
  stands: bigint | null = 0n
  next = 0n
  count = 0

  /** Sends what is due up to `now`, at half microseconds and more of a clock's time. */
  move(now: number): void {
    if (this.tempo > 0n) {
      // A clock's time is its exact time to the nearest microsecond: due by now where that is under half a microsecond later.
      const reach = 2n * (this.place + BigInt(now - this.at) * this.tempo) + this.tempo
      const due = (reach - 1n) / (2n * CLOCK)
      if (due >= this.next) {
        this.count += Number(due - this.next + 1n)
        this.next = due + 1n
      }
      this.place += BigInt(now - this.at) * this.tempo
    }
    this.at = now
  }

  tell(kind: string, units: number): void {
    if (kind === 'start') {
      this.tempo = BigInt(units)
      this.place = 0n
      this.next = 0n
      this.stands = null
    } else if (kind === 'tempo' && this.tempo > 0n) this.tempo = BigInt(units)
    else if (kind === 'stop') this.stands ??= this.place
    else if (kind === 'go-on' && this.stands !== null && this.tempo > 0n) {
      this.place = this.stands
      this.next = (this.place + CLOCK - 1n) / CLOCK
      this.stands = null
    }
  }
}

/** The deed as the stage hears of it; tempo in ten-thousandths. */
function told(kind: Kind, units: number): ClockOutIn {
  if (kind === 'start') return { kind, tempo: units / 10_000, bar: 4 }
  return kind === 'tempo' ? { kind, tempo: units / 10_000 } : { kind }
}

test('between any two moments as many clocks leave as the exact place of the beats says', () => {
  checkProperty(
    'clocks by exact place',
    fc.property(fc.array(deed, { minLength: 1, maxLength: 20 }), (deeds) => {
      const run = new ClockRun()
      const exact = new Exact()
      run.tell({ kind: 'found', port: 0 }, 0)
      let now = 0
      for (const { after, kind, tempo: units } of deeds) {
        // Not within the millisecond that Start holds its downbeat back.
        now += after
        run.until(now - 1)
        exact.move(now - 1)
        expect(run.clocks).toHaveLength(exact.count)
        exact.move(now)
        exact.tell(kind, units)
        run.tell(told(kind, units), now)
        const settled = now + 1_001
        run.until(settled)
        exact.move(settled)
        expect(run.clocks).toHaveLength(exact.count)
        now = settled
      }
      // Whoever follows by the book is never told to move twice, nor to stop twice.
      const words = run.words.flatMap(({ bytes }) => (bytes[0] === 0xf2 ? [] : [bytes[0]]))
      words.forEach((word, place) => {
        const isMoving = words[place - 1] === 0xfa || words[place - 1] === 0xfb
        expect(word === 0xfc).toBe(isMoving)
      })
    }),
    1000,
  )
})

test('by what it is told, a follower is where the song is', () => {
  checkProperty(
    'follower at the place',
    fc.property(fc.array(deed, { minLength: 1, maxLength: 20 }), (deeds) => {
      const run = new ClockRun()
      const exact = new Exact()
      run.tell({ kind: 'found', port: 0 }, 0)
      let now = 0
      for (const { after, kind, tempo: units } of deeds) {
        now += after
        exact.move(now)
        exact.tell(kind, units)
        run.tell(told(kind, units), now)
      }
      now += 2_000_000
      run.until(now)
      exact.move(now)
      let place: number | null = null
      let next = 0
      for (const { bytes } of run.sent) {
        const [word = 0, least = 0, most = 0] = bytes
        if (word === 0xfa) [place, next] = [0, 0]
        else if (word === 0xf2) next = (least + 128 * most) * 6
        else if (word === 0xfb) place = next
        else if (word === 0xfc) place = null
        else if (place !== null) place++
      }
      const isStill = exact.tempo === 0n || exact.stands !== null
      expect(place).toBe(isStill ? null : Number(exact.next))
    }),
    1000,
  )
})
