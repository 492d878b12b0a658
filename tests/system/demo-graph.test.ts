import { describe, expect, test } from 'vitest'
import type { LampState } from '../../src/domain/lamp-state.ts'
import type { TapEvent } from '../../src/graph/tap.ts'
import { demoShow } from '../support/demo.ts'
import { glasshouseTake } from '../support/glasshouse-take.ts'
import { noteFates } from '../support/note-fates.ts'
import { playTake, takeBytes } from '../support/played-take.ts'
import { replayLamps } from '../support/replayed-lamps.ts'

const show = demoShow()
const take = takeBytes(glasshouseTake())

/** Of each part, notes that light no lamp: all of them lose it to another note of the same moment. */
const UNPLACED: Readonly<Record<string, number>> = { arc: 3, round: 1, leaves: 1, drops: 5 }

function litStates(events: readonly TapEvent[]): (LampState & { on: true; lamp: string; at: number })[] {
  return events.flatMap((event) =>
    event.kind !== 'frame'
      ? []
      : event.changes.flatMap(({ lamp, state }) => (state.on ? [{ ...state, lamp, at: event.at }] : [])),
  )
}

// A variant has its song's parts, fewer of them here.
describe.each(show.songs.filter(({ variantOf }) => variantOf === undefined))(
  'the demo take in "$title"',
  (song) => {
    const { graph, events } = playTake(show, song.id, take)
    const count = (kind: string, player: string): number =>
      events.filter((one) => one.kind === 'player' && one.player === player && one.event.kind === kind).length

    test('nothing to report', () => {
      expect(events.filter(({ kind }) => kind === 'diagnostic')).toEqual([])
    })

    test('every note-on heard is a note, a second thought of the converter, or dropped with a reason', () => {
      for (const { id } of show.players) {
        const heard = events.filter(
          (one) => one.kind === 'heard' && one.player === id && one.message.type === 'note-on',
        ).length
        expect(heard).toBe(count('note-on', id) + count('note-rekey', id) + count('dropped', id))
        expect(count('note-off', id)).toBe(count('note-on', id))
      }
      expect(count('note-rekey', 'bass')).toBeGreaterThan(5)
      const dropped = events.flatMap((one) =>
        one.kind === 'player' && one.event.kind === 'dropped' ? [one.event.why] : [],
      )
      expect(new Set(dropped)).toEqual(new Set(['ghost', 'mask', 'crosstalk', 'floor']))
    })

    test.each(song.parts)('every note of part $id lights a lamp or is counted', (part) => {
      const fates = noteFates(part, events)
      expect(fates.taken).toBeGreaterThan(30)
      expect(fates.unplaced.filter(({ why }) => why === 'unknown')).toEqual([])
      expect(fates.unplaced.length).toBe(UNPLACED[part.id] ?? 0)
      expect(fates.placed).toBe(fates.taken - fates.unplaced.length)
    })

    test('what the bytes do to a lamp box is what the frames say, at every moment', () => {
      const replayed = replayLamps(show, events)
      expect(replayed.litMoments).toBeGreaterThan(1000)
      expect(replayed.litLamps).toBeGreaterThan(replayed.litMoments)
      expect(replayed.frames.get('wire')).toBeGreaterThan(500)
      expect(replayed.end).toEqual(graph.lamps)
    })

    test('a message lost on the way would show', () => {
      const lost = events.find((one) => one.kind === 'bytes' && one.message?.type === 'note-on')
      const late = events.findLast((one) => one.kind === 'bytes' && one.output === 'wire')
      for (const missing of [lost, late]) {
        expect(missing).toBeDefined()
        expect(() =>
          replayLamps(
            show,
            events.filter((one) => one !== missing),
          ),
        ).toThrow(/the box|not down/)
      }
    })

    test('every lamp lights, and all are dark at the end', () => {
      expect(new Set(litStates(events).map(({ lamp }) => lamp))).toEqual(
        new Set(song.parts.flatMap(({ lamps }) => lamps)),
      )
      expect(graph.lamps.map(({ on }) => on)).toEqual(show.rig.lamps.map(() => false))
    })

    test('a lamp has one state a moment, within its own limits', () => {
      const frames = events.filter((event) => event.kind === 'frame')
      for (const { at, changes } of frames) {
        if (new Set(changes.map(({ lamp }) => lamp)).size < changes.length)
          throw new Error(`a lamp twice at ${at}`)
      }
      const beyond = litStates(events).filter(({ lamp: id, hz, duty }) => {
        const lamp = show.rig.lamps.find((one) => one.id === id)
        return !lamp || hz < lamp.lowHz || hz > lamp.highHz || duty < lamp.minDuty || duty > lamp.maxDuty
      })
      expect(beyond).toEqual([])
    })

    test('a lamp struck again by a part with a gap was dark for that long', () => {
      const state = new Map<string, { at: number; state: LampState }>()
      let restrikes = 0
      for (const event of events) {
        if (event.kind !== 'frame') continue
        for (const change of event.changes) {
          const before = state.get(change.lamp)
          state.set(change.lamp, { at: event.at, state: change.state })
          if (!change.state.on || !change.state.strike || !before) continue
          const part = song.parts.find(({ id }) => change.state.on && id === change.state.part)
          if (!part || part.gapMs === 0) continue
          restrikes++
          expect(before.state.on).toBe(false)
          expect(event.at - before.at).toBeGreaterThanOrEqual(part.gapMs * 1000)
        }
      }
      expect(restrikes).toBeGreaterThan(50)
    })
  },
)

describe('what the demo is there to show', () => {
  const { events } = playTake(show, 'dew', take)
  const lit = litStates(events)

  test('the lotus folds by an octave what the palm sounds as it is', () => {
    const ratios = lit
      .filter(({ part, lamp }) => part === 'low' && lamp === 'lotus')
      .flatMap(({ at, note, hz }) =>
        lit
          .filter((one) => one.at === at && one.note === note && one.lamp === 'palm')
          .map((one) => hz / one.hz),
      )
    const cents = ratios.map((ratio) => Math.round(1200 * Math.log2(ratio)))
    // The two are 8 cents apart on purpose.
    expect(new Set(cents)).toEqual(new Set([-8, 1192]))
  })

  test('the bass takes the sedge from the keys and gives it back', () => {
    const owners = events.flatMap((event) =>
      event.kind !== 'frame'
        ? []
        : event.changes.flatMap(({ lamp, state }) =>
            lamp === 'sedge' ? [state.on ? state.part : 'dark'] : [],
          ),
    )
    const turns = owners.filter((owner, index) => owner !== owners[index - 1])
    // Straight from a chord of the keys to the bass, later back through darkness.
    const theft = turns.findIndex((owner, index) => owner === 'low' && turns[index - 1] === 'lead')
    expect(theft).toBeGreaterThan(0)
    expect(turns.slice(theft)).toContain('lead')
  })

  test('controller 74 sweeps the duty of the keys, velocity sets that of the pads', () => {
    const lead = lit.filter(({ part }) => part === 'lead').map(({ duty }) => duty)
    expect(Math.min(...lead)).toBeLessThan(0.06)
    expect(Math.max(...lead)).toBeCloseTo(0.5, 6)
    const drips = lit.filter(({ part }) => part === 'drips').map(({ duty }) => duty)
    expect(new Set(drips).size).toBeGreaterThan(20)
  })

  test('notes that only the pedal holds are stolen first', () => {
    const released = new Set<number>()
    const stolen: boolean[] = []
    for (const event of events) {
      if (event.kind === 'player' && event.player === 'keys' && event.event.kind === 'note-release') {
        released.add(event.event.note)
      }
      if (event.kind === 'steal' && event.part === 'lead') stolen.push(released.has(event.from))
    }
    expect(stolen.filter(Boolean).length).toBeGreaterThan(0)
  })
})
