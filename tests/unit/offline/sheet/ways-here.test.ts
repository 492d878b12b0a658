import { expect, test } from 'vitest'
import type { Control } from '../../../../src/domain/switching.ts'
import { gestureWords } from '../../../../src/offline/sheet/control-words.ts'
import { waysHere } from '../../../../src/offline/sheet/ways-here.ts'
import { keysPlayer } from '../../../support/players.ts'
import type { Json } from '../../../support/shows.ts'
import { glasshouse } from '../../../support/shows.ts'
import { validShow } from '../../../support/valid-show.ts'

const song = (id: string, more: Record<string, Json> = {}): Json => ({ id, title: id, parts: [], ...more })

/** How keys come to each song of `dew mist(skipped) growth dew`, where rain is a variant of dew and sun is off the list. */
function ways(...controls: readonly Pick<Control, 'on' | 'do'>[]): Record<string, string[]> {
  const show = validShow(
    glasshouse({
      songs: [
        song('dew'),
        song('mist', { skip: true }),
        song('growth'),
        song('rain', { variantOf: 'dew' }),
        song('sun'),
      ],
      setList: ['dew', 'mist', 'growth', 'dew'],
      switching: { controls: controls.map((control) => ({ player: 'keys', ...control })) as never },
    }),
  )
  return Object.fromEntries(
    show.songs.map((one) => [
      one.id,
      waysHere(show, one, 'keys').map(
        ({ control, program, from }) =>
          `${gestureWords(control.on, keysPlayer(), program)}${from === undefined ? '' : ` in ${from}`}`,
      ),
    ]),
  )
}

const PEDAL = { kind: 'controller', controller: 80 } as const
const KEY = { kind: 'note', key: 24, channel: 2 } as const

test('next and previous pass over what is skipped, and go from every place that is beside', () => {
  expect(ways({ on: PEDAL, do: 'next' })).toEqual({
    dew: ['press controller 80 in growth'],
    mist: [],
    growth: ['press controller 80 in dew'],
    rain: [],
    sun: [],
  })
  expect(ways({ on: KEY, do: 'previous' })).toMatchObject({
    dew: ['key C1 (24), channel 2 in growth'],
    mist: [],
    growth: ['key C1 (24), channel 2 in dew'],
  })
})

test('a number is a place from 0, skipped or not', () => {
  expect(ways({ on: { kind: 'program' }, do: 'number' })).toEqual({
    dew: ['program change 0', 'program change 3'],
    mist: ['program change 1'],
    growth: ['program change 2'],
    rain: [],
    sun: [],
  })
})

test('variants go round from the song and back to it', () => {
  expect(ways({ on: { kind: 'controller', controller: 64 }, do: 'variant' })).toEqual({
    dew: ['press the sustain pedal, controller 64 in rain'],
    mist: [],
    growth: [],
    rain: ['press the sustain pedal, controller 64 in dew'],
    sun: [],
  })
})

test('a song or a place by itself, from anywhere; dark goes to no song', () => {
  const { mist, sun, ...rest } = ways(
    { on: { kind: 'program', program: 7 }, do: { song: 'sun' } },
    { on: PEDAL, do: { place: 2 } },
    { on: KEY, do: 'dark' },
  )
  expect(sun).toEqual(['program change 7'])
  expect(mist).toEqual(['press controller 80'])
  expect(rest).toEqual({ dew: [], growth: [], rain: [] })
})
