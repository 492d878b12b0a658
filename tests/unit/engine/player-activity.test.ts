import { expect, test } from 'vitest'
import { PlayerActivities } from '../../../app/engine/player-activity.ts'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import type { PlayerEvent } from '../../../src/domain/player-event.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const SHOW = validShow(
  glasshouse({
    players: [
      { id: 'keys', kind: 'keys', input: { port: 'Keybed', channels: [1, 2] } },
      { id: 'bass', kind: 'strings', input: { port: 'Keybed', channels: [3] } },
    ],
  }),
)

const NO_DROPS = { floor: 0, mask: 0, crosstalk: 0, ghost: 0 }

function setUp() {
  const activities = new PlayerActivities(SHOW.players)
  activities.news()
  const did = (event: PlayerEvent, player = 'keys'): void =>
    activities.watch({ kind: 'player', at: 5, player, event })
  const heard = (message: MidiMessage, at: number, player = 'keys'): void =>
    activities.watch({ kind: 'heard', at, player, message })
  const on = (note: number, key: number, velocity = 100): void =>
    did({ kind: 'note-on', note, key, channel: 1, velocity })
  return { activities, did, heard, on }
}

test('all are told once at first, quiet, in the order of the show', () => {
  const activities = new PlayerActivities(SHOW.players)
  const quiet = { keys: [], bendCents: 0, heardAt: null, notes: 0, dropped: 0, drops: NO_DROPS }
  expect(activities.news()).toEqual([
    { player: 'keys', ...quiet },
    { player: 'bass', ...quiet },
  ])
  expect(activities.news()).toBeUndefined()
})

test('keys are told as played, lowest first, and whether a pedal holds them', () => {
  const { activities, did, on } = setUp()
  on(1, 67, 80)
  on(2, 60, 90)
  did({ kind: 'note-release', note: 1 })
  expect(activities.news()?.[0]).toMatchObject({
    keys: [
      { key: 60, velocity: 90, pedalled: false },
      { key: 67, velocity: 80, pedalled: true },
    ],
    notes: 2,
  })
  did({ kind: 'note-off', note: 1 })
  did({ kind: 'note-rekey', note: 2, key: 72 })
  expect(activities.news()?.[0]?.keys).toEqual([{ key: 72, velocity: 90, pedalled: false }])
  did({ kind: 'all-off' })
  expect(activities.news()?.[0]).toMatchObject({ keys: [], notes: 2 })
})

test('what changes nothing is not told: the end of a note that is over, silence again, the same bend', () => {
  const { activities, did, on } = setUp()
  on(1, 60)
  did({ kind: 'bend', channel: 1, cents: 35 })
  did({ kind: 'note-off', note: 1 })
  expect(activities.news()?.[0]).toMatchObject({ keys: [], bendCents: 35 })
  did({ kind: 'note-off', note: 1 })
  did({ kind: 'note-release', note: 1 })
  did({ kind: 'all-off' })
  did({ kind: 'bend', channel: 2, cents: 35 })
  did({ kind: 'controller', channel: 1, controller: 74, value: 3 })
  expect(activities.news()).toBeUndefined()
})

test('what was not taken for a note is counted', () => {
  const { activities, did } = setUp()
  did({ kind: 'dropped', key: 40, channel: 3, why: 'ghost' }, 'bass')
  did({ kind: 'joined', note: 1, key: 40, channel: 3 }, 'bass')
  expect(activities.news()?.[1]).toMatchObject({
    player: 'bass',
    notes: 0,
    dropped: 1,
    drops: { ...NO_DROPS, ghost: 1 },
  })
})

test('last heard counts messages of its own channels, and those of none; clocks alone are no news', () => {
  const { activities, heard } = setUp()
  heard({ type: 'clock' }, 10)
  heard({ type: 'active-sensing' }, 20)
  heard({ type: 'controller', channel: 3, controller: 1, value: 1 }, 30)
  expect(activities.news()).toBeUndefined()
  heard({ type: 'controller', channel: 2, controller: 1, value: 1 }, 40)
  heard({ type: 'clock' }, 50)
  expect(activities.news()?.map(({ heardAt }) => heardAt)).toEqual([50, null])
})

test('how long notes were kept back: how many, mean and worst in microseconds; one that was not does not count', () => {
  const { activities, did, on } = setUp()
  const on3 = { kind: 'note-on', key: 40, channel: 3, velocity: 90 } as const
  did({ ...on3, note: 1, heldBack: 20_000 }, 'bass')
  did({ ...on3, note: 2 }, 'bass')
  did({ kind: 'note-rekey', note: 2, key: 52 }, 'bass')
  did({ kind: 'note-rekey', note: 2, key: 43, legato: true, heldBack: 11_000 }, 'bass')
  on(1, 60)
  const [keys, bass] = activities.news() ?? []
  expect(bass).toMatchObject({ notes: 3, heldBack: { count: 2, mean: 15_500, max: 20_000 } })
  expect(keys).not.toHaveProperty('heldBack')
})
