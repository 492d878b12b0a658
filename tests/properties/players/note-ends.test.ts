import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import type { Player } from '../../../src/domain/player.ts'
import { centreBend, centsOf, startBends, stepBends } from '../../../src/players/channel-bend.ts'
import { conditionerFor } from '../../../src/players/conditioner.ts'
import { anyMessage } from '../../support/message-arbitrary.ts'
import { bend, bendRange, cc, off, on } from '../../support/midi-messages.ts'
import { soundingAfter } from '../../support/note-books.ts'
import { keysPlayer, padsPlayer, stringsPlayer } from '../../support/players.ts'
import { checkProperty } from '../../support/property.ts'
import { StageRun } from '../../support/stage-run.ts'

// Few keys and channels, and times in the order of the windows, so that everything meets everything.
const key = fc.constantFrom(40, 41, 52, 64)
const channel = fc.constantFrom(1, 1, 2, 3)
const played: fc.Arbitrary<MidiMessage> = fc.oneof(
  { weight: 6, arbitrary: fc.tuple(key, fc.integer({ min: 1, max: 127 }), channel).map((a) => on(...a)) },
  { weight: 5, arbitrary: fc.tuple(key, channel).map((a) => off(...a)) },
  {
    weight: 3,
    arbitrary: fc
      .tuple(fc.constantFrom(64, 66), fc.constantFrom(0, 63, 64, 127), channel)
      .map((a) => cc(...a)),
  },
  {
    weight: 1,
    arbitrary: fc.tuple(fc.integer({ min: 119, max: 127 }), fc.constant(0), channel).map((a) => cc(...a)),
  },
  {
    weight: 1,
    arbitrary: fc.tuple(fc.integer({ min: 0, max: 96 }), fc.constant(0), channel).map((a) => bendRange(...a)),
  },
  {
    weight: 2,
    arbitrary: fc
      .tuple(fc.constantFrom(0, 7_500, 8_192, 8_260, 8_875, 16_383), channel)
      .map((a) => bend(...a)),
  },
  { weight: 1, arbitrary: anyMessage },
)
const after = fc.oneof(
  fc.constant(0),
  fc.integer({ min: 1, max: 3_000 }),
  fc.constantFrom(2_000, 5_000, 12_000, 20_000, 40_000, 120_000, 330_000),
  fc.integer({ min: 0, max: 60_000 }),
)
const take = fc.array(fc.record({ after, message: played }), { maxLength: 60 })

const time = fc.constantFrom(0, 0.0004, 5, 12, 20, 40, 60)
const channels = fc.constantFrom([1], [1, 2], [1, 2, 3])
const port = 'Port'
const anyPlayer: Record<Player['kind'], fc.Arbitrary<Player>> = {
  keys: channels.map((list) => keysPlayer({ input: { port, channels: list } })),
  pads: fc
    .tuple(channels, time, time, fc.constantFrom(0.0001, 5, 120))
    .map(([list, maskMs, crosstalkMs, gateMs]) =>
      padsPlayer({ input: { port, channels: list }, maskMs, crosstalkMs, gateMs }),
    ),
  strings: fc
    .record({
      channels,
      minNoteMs: time,
      octaveGuardMs: time,
      bendSmoothMs: fc.constantFrom(0, 0.0005, 1, 5),
      legato: fc.boolean(),
      mode: fc.constantFrom(undefined, 'string-per-channel' as const, 'one-channel' as const),
    })
    .map(({ channels: list, ...rest }) => stringsPlayer({ input: { port, channels: list }, ...rest })),
}

const ALL_CHANNELS = Array.from({ length: 16 }, (_, index) => index + 1)

/** All keys up, all pedals up. */
const RELEASE: readonly MidiMessage[] = [1, 2, 3].flatMap((ch) => [
  ...Array.from({ length: 128 }, (_, one) => off(one, ch)),
  cc(64, 0, ch),
  cc(66, 0, ch),
])

describe.each(['keys', 'pads', 'strings'] as const)('%s', (kind) => {
  // StageRun freezes state and events: a change of either throws; so does a wake that is not in the future, and one without end.
  test('whatever is played, each strike has its own number and one end once everything is let go', () => {
    checkProperty(
      `${kind}: one end each`,
      fc.property(anyPlayer[kind], take, (player, messages) => {
        const run = new StageRun(conditionerFor(player), player)
        let at = 0
        for (const one of messages) run.at((at += one.after), one.message)
        for (const message of RELEASE) run.at(at, message)
        run.runOut()
        expect([...soundingAfter(run.said.map(({ out }) => out))]).toEqual([])
        expect(run.wakeAt).toBeUndefined()
      }),
      3000,
    )
  })

  test('all-off at any time ends everything, and nothing of before comes back', () => {
    checkProperty(
      `${kind}: all-off`,
      fc.property(anyPlayer[kind], take, (player, messages) => {
        const run = new StageRun(conditionerFor(player), player)
        let at = 0
        for (const one of messages) run.at((at += one.after), one.message)
        run.at(at, { kind: 'all-off' })
        expect([...soundingAfter(run.said.map(({ out }) => out))]).toEqual([])
        expect(run.runOut()).toEqual([])
      }),
    )
  })

  test('put down as JSON and taken up after every step, it says the same', () => {
    checkProperty(
      `${kind}: round trip`,
      fc.property(anyPlayer[kind], take, (player, messages) => {
        const straight = new StageRun(conditionerFor(player), player)
        const putDown = new StageRun(conditionerFor(player), player, true)
        let at = 0
        for (const one of messages) {
          at += one.after
          straight.at(at, one.message)
          putDown.at(at, one.message)
        }
        straight.runOut()
        putDown.runOut()
        expect(putDown.said).toEqual(straight.said)
        expect(putDown.state).toEqual(straight.state)
      }),
    )
  })

  test('any message at all, on all channels: no throw, and the books are in order', () => {
    checkProperty(
      `${kind}: any message`,
      fc.property(
        anyPlayer[kind],
        fc.array(fc.tuple(after, anyMessage), { maxLength: 60 }),
        (one, messages) => {
          const player = { ...one, input: { port, channels: ALL_CHANNELS } }
          const run = new StageRun(conditionerFor(player), player)
          let at = 0
          for (const [wait, message] of messages) run.at((at += wait), message)
          run.runOut()
          soundingAfter(run.said.map(({ out }) => out))
        },
      ),
    )
  })
})

describe('strings', () => {
  test('every note-on heard is a note, joined to one, or dropped: each exactly once', () => {
    checkProperty(
      'strings: books',
      fc.property(anyPlayer.strings, take, (player, messages) => {
        const run = new StageRun(conditionerFor(player), player)
        let at = 0
        let heard = 0
        for (const { after: wait, message } of messages) {
          at += wait
          run.at(at, message)
          if (message.type === 'note-on' && player.input.channels.includes(message.channel)) heard++
        }
        run.runOut()
        const count = (kind: string): number => run.said.filter(({ out }) => out.kind === kind).length
        expect(count('note-on') + count('joined') + count('dropped')).toBe(heard)
      }),
      2000,
    )
  })

  test('no note is held back longer than minNoteMs and a burst; a joined one names a note that sounds', () => {
    checkProperty(
      'strings: held back',
      fc.property(anyPlayer.strings, take, (player, messages) => {
        if (player.kind !== 'strings') throw new Error('not strings')
        const run = new StageRun(conditionerFor(player), player)
        let at = 0
        for (const one of messages) run.at((at += one.after), one.message)
        run.runOut()
        const limit = Math.round(player.minNoteMs * 1000) + 2000
        const begun = new Set<number>()
        const wrong = run.said.filter(({ out }) => {
          if (out.kind === 'note-on') begun.add(out.note)
          if (out.kind === 'joined') return !begun.has(out.note)
          const isNote = out.kind === 'note-on' || out.kind === 'note-rekey'
          return isNote && (out.heldBack ?? 1) > limit
        })
        expect(wrong).toEqual([])
      }),
    )
  })

  test('five milliseconds after the last message bends stand where they were sent, once no note is undecided', () => {
    checkProperty(
      'strings: bends arrive',
      fc.property(anyPlayer.strings, take, (player, messages) => {
        if (player.kind !== 'strings') throw new Error('not strings')
        const run = new StageRun(conditionerFor(player), player)
        let at = 0
        let bends = startBends(player.bendRange)
        for (const { after: wait, message } of messages) {
          at += wait
          run.at(at, message)
          if (!('channel' in message) || !player.input.channels.includes(message.channel)) {
            if (message.type === 'reset') bends = startBends(player.bendRange)
            continue
          }
          bends = stepBends(bends, message).bends
          if (message.type === 'controller' && message.controller === 121)
            bends = centreBend(bends, message.channel).bends
        }
        const undecided = player.minNoteMs * 1000 + 2000
        run.wakeUpTo(Math.ceil(at + undecided + 5_000))
        // A cable that is out centres them by itself.
        if (run.said.some(({ out }) => out.kind === 'all-off')) return
        for (const ch of player.input.channels) {
          const told = run.said.findLast(({ out }) => out.kind === 'bend' && out.channel === ch)?.out
          const sent = bends[ch - 1]
          expect(told?.kind === 'bend' ? told.cents : 0).toBe(sent ? centsOf(sent) : 0)
        }
      }),
      1000,
    )
  })
})
