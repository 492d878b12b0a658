import { describe, expect, test } from 'vitest'
import {
  addControl,
  changeControl,
  freshControl,
  gestureOf,
  removeControl,
  setShowEnterAt,
  withAct,
  withGesture,
} from '../../../../app/screens/songs/control-edits.ts'
import { isGesture, learnedControl } from '../../../../app/screens/songs/learned-control.ts'
import { notInOrder, runningOrder, sumWords } from '../../../../app/screens/songs/running-order.ts'
import { actWords, gestureWords } from '../../../../app/screens/wording/switching-words.ts'
import { CONTRACT_VERSION } from '../../../../src/contract/version.ts'
import type { Control } from '../../../../src/domain/switching.ts'
import { demoShow } from '../../../support/demo.ts'

const demo = demoShow()

function withSongs(changes: Readonly<Record<string, object>>) {
  return { ...demo, songs: demo.songs.map((song) => ({ ...song, ...changes[song.id] })) }
}

describe('the running order', () => {
  test('tells what plays by its place, and a variant in the place of its song', () => {
    const order = runningOrder(demo, { song: 'dew', position: 3 }, undefined)
    expect(order.map(({ song, isPlaying }) => [song.id, isPlaying])).toEqual([
      ['dew', false],
      ['mist', false],
      ['growth', false],
      ['dew', true],
    ])
    expect(order[2]?.variants.map(({ id }) => id)).toEqual(['growth-bare'])
    const varied = runningOrder(demo, { song: 'growth-bare', position: 2 }, undefined)
    expect(varied[2]).toMatchObject({ isPlaying: true, playing: { id: 'growth-bare' } })
  })

  test('a set list may name a variant; a name that leads nowhere is left out', () => {
    const show = { ...demo, setList: ['growth-bare', 'none', 'mist'] }
    expect(runningOrder(show, undefined, undefined).map(({ song, place }) => [song.id, place])).toEqual([
      ['growth-bare', 0],
      ['mist', 2],
    ])
    // The song of a variant that is played is not called left out.
    expect(notInOrder(show).map(({ id }) => id)).toEqual(['dew'])
  })

  test('sums what is played and known', () => {
    const sum = (show: typeof demo) => sumWords(runningOrder(show, undefined, undefined))
    // 4.5 + 6 + 7.25 + 4.5 minutes.
    expect(sum(demo)).toEqual({ sum: '22:15', aside: '' })
    expect(sum(withSongs({ mist: { skip: true }, growth: { minutes: undefined } }))).toEqual({
      sum: '9:00',
      aside: 'one place without a length; without what is not played tonight',
    })
    const none = { minutes: undefined }
    expect(sum(withSongs({ dew: none, mist: none, growth: none })).sum).toBe('not said')
    expect(sum(withSongs({ dew: { minutes: 60 }, mist: { minutes: 0.01 } })).sum).toBe('2:07:16')
  })
})

describe('controls', () => {
  const next: Control = { player: 'keys', on: { kind: 'controller', controller: 80 }, do: 'next' }

  test('are edited where they stand by now', () => {
    const moved = {
      ...demo,
      switching: { ...demo.switching, controls: [...demo.switching.controls].toReversed() },
    }
    const after: Control = { ...next, do: 'dark' }
    expect(changeControl(next, after)(demo)?.changes).toEqual([
      { do: 'set', path: ['switching', 'controls', 1], value: after },
    ])
    expect(removeControl(next)(moved)?.changes).toEqual([
      { do: 'remove', path: ['switching', 'controls', 2] },
    ])
    expect(removeControl(after)(demo)).toBeUndefined()
    expect(addControl(next)(demo)?.changes[0]?.path).toEqual(['switching', 'controls', 4])
    expect(setShowEnterAt('bar')(demo)?.changes[0]).toMatchObject({ value: 'bar' })
  })

  test('a new one has a gesture of its own', () => {
    const taken = [0, 1].map((program): Control => ({
      player: 'keys',
      on: { kind: 'program', program },
      do: 'next',
    }))
    const show = { ...demo, switching: { ...demo.switching, controls: taken } }
    expect(freshControl(show)).toEqual({ player: 'keys', on: { kind: 'program', program: 2 }, do: 'next' })
    const all = Array.from({ length: 128 }, (_, program): Control => ({
      player: 'keys',
      on: { kind: 'program', program },
      do: 'next',
    }))
    expect(freshControl({ ...demo, switching: { ...demo.switching, controls: all } })).toBeUndefined()
  })

  test('the number of a program is an act of any program change alone', () => {
    const number = withAct({ ...next, on: { ...next.on, channel: 3 } }, 'number')
    expect(number).toEqual({ player: 'keys', on: { kind: 'program', channel: 3 }, do: 'number' })
    expect(withGesture(number, { kind: 'note', key: 60 }).do).toBe('next')
    expect(withGesture(number, { kind: 'program' }).do).toBe('number')
    expect(gestureOf('controller', { kind: 'note', key: 127, channel: 2 })).toEqual({
      kind: 'controller',
      controller: 119,
      channel: 2,
    })
    expect(gestureOf('note', { kind: 'program' })).toEqual({ kind: 'note', key: 0 })
  })

  test('in words', () => {
    expect(gestureWords({ kind: 'note', key: 49, channel: 10 }, 'pads')).toBe('pad C#3 (49), channel 10')
    // MIDI 1.0 Detailed Specification: controller 64 is the damper, or sustain, pedal.
    expect(gestureWords({ kind: 'controller', controller: 64 }, 'keys')).toBe(
      'controller 64 (sustain pedal) pressed',
    )
    expect(gestureWords({ kind: 'program', program: 0 }, 'strings')).toBe('program change 0')
    expect(actWords(demo, { place: 2 })).toBe('place 2: Mist clock')
    expect(actWords(demo, { song: 'growth-bare' })).toBe('the song Slow growth, no bass')
  })
})

describe('what was played to be learned', () => {
  const heard = (what: object) =>
    ({ v: CONTRACT_VERSION, type: 'learned', port: 'Keybed', channel: 1, ...what }) as const

  test('is of the player that listens there, with a channel where it listens to several', () => {
    expect(learnedControl(demo, heard({ controller: 64 }))).toMatchObject({
      player: { id: 'keys' },
      on: { kind: 'controller', controller: 64 },
    })
    const bass = learnedControl(demo, heard({ port: 'Bass', channel: 4, key: 40 }))
    expect(bass).toMatchObject({ player: { id: 'bass' }, on: { kind: 'note', key: 40, channel: 4 } })
    const pads = learnedControl(demo, heard({ port: 'Pads', channel: 10, program: 5 }))
    expect(pads).toMatchObject({ on: { kind: 'program', program: 5 } })
    expect('on' in pads && pads.on.channel).toBeUndefined()
  })

  test('is nobody’s on a port or a channel that nobody has, and it says why', () => {
    expect(learnedControl(demo, heard({ port: 'Elsewhere', key: 1 }))).toMatchObject({
      why: expect.stringContaining('No player listens to that port') as string,
    })
    expect(learnedControl(demo, heard({ channel: 9, key: 1 }))).toMatchObject({
      why: expect.stringContaining('Keys listens there, but not to channel 9') as string,
    })
  })

  test('channel mode messages are no controls', () => {
    // MIDI 1.0 Detailed Specification: controllers 120 to 127 are channel mode messages.
    expect([119, 120, 123].map((controller) => isGesture(heard({ controller })))).toEqual([
      true,
      false,
      false,
    ])
    expect([isGesture(heard({ key: 0 })), isGesture(heard({ program: 0 })), isGesture(heard({}))]).toEqual([
      true,
      true,
      false,
    ])
  })
})
