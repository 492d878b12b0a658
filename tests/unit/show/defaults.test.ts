import { expect, test } from 'vitest'
import type { Show } from '../../../src/domain/show.ts'
import { parseShow } from '../../../src/show/parse-show.ts'
import { formatFaults } from '../../../src/show/show-fault.ts'
import { strategies } from '../../../src/strategies/registry.ts'
import type { RawShow } from '../../support/shows.ts'
import { glasshouse, glasshouseText } from '../../support/shows.ts'

function parsed(overrides: RawShow = {}): Show {
  const result = parseShow(glasshouseText(overrides), strategies)
  if (!result.ok) throw new Error(formatFaults(result.faults))
  return result.show
}

test('a lamp, its supply and its serial output', () => {
  const { rig } = parsed()
  expect(rig.supplies).toEqual([{ id: 'bench', volts: 12, maxAmps: 5, usable: 0.8 }])
  expect(rig.outputs).toEqual([
    {
      id: 'wire',
      kind: 'serial',
      port: 'virtual',
      baud: 500_000,
      timer: { clockHz: 16_000_000, prescalers: [1, 8, 64, 256, 1024], bits: 16 },
      offsetMs: 0,
    },
  ])
  expect(rig.lamps[2]).toEqual({
    id: 'reed',
    name: 'reed',
    output: 'wire',
    slot: 2,
    supply: 'bench',
    watts: 10,
    x: 2,
    y: 0,
    lowHz: 20,
    highHz: 4200,
    minDuty: 0.02,
    maxDuty: 0.5,
    trimCents: 0,
    delayMs: 0,
  })
})

test('a MIDI output begins on channel 1, an MPE zone after its manager channel', () => {
  const base = glasshouse().rig as RawShow
  const outputs = ['channel-per-lamp', 'mpe', 'note-per-lamp'].map((layout) => ({
    id: layout,
    kind: 'midi',
    port: 'Lamp box',
    layout,
  }))
  const show = parsed({ rig: { ...base, outputs: [...(base.outputs as RawShow[]), ...outputs] } })
  expect(show.rig.outputs.slice(1)).toEqual([
    { ...outputs[0], firstChannel: 1, firstNote: 36, bendRange: 2, bendBits: 14, offsetMs: 0 },
    { ...outputs[1], firstChannel: 2, firstNote: 36, bendRange: 48, bendBits: 14, offsetMs: 0 },
    { ...outputs[2], firstChannel: 1, firstNote: 36, bendRange: 2, bendBits: 14, offsetMs: 0 },
  ])
})

test('players of each kind', () => {
  const input = { port: 'Stage left' }
  const channels = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16]
  const { players } = parsed({
    players: [
      { id: 'keys', kind: 'keys', input },
      { id: 'pads', kind: 'pads', input, name: 'Drums' },
      { id: 'bass', kind: 'strings', input: { ...input, channels: [3] } },
    ],
  })
  expect(players).toEqual([
    { id: 'keys', name: 'keys', kind: 'keys', input: { ...input, channels }, bendRange: 2 },
    {
      id: 'pads',
      name: 'Drums',
      kind: 'pads',
      input: { ...input, channels },
      floor: 8,
      maskMs: 12,
      crosstalkMs: 5,
      gateMs: 120,
      curve: 'linear',
      pads: [],
    },
    {
      id: 'bass',
      name: 'bass',
      kind: 'strings',
      input: { ...input, channels: [3] },
      minNoteMs: 20,
      octaveGuardMs: 40,
      bendSmoothMs: 0,
      legato: true,
      bendRange: 12,
    },
  ])
})

test('a song and its part', () => {
  expect(parsed().songs[0]).toEqual({
    id: 'tide',
    title: 'Tide table',
    tempo: 120,
    beats: 4,
    tuning: 'even',
    enter: 'cut',
    skip: false,
    takes: [],
    notes: '',
    parts: [
      {
        id: 'lead',
        player: 'keys',
        lamps: ['fern', 'moss', 'reed', 'sedge'],
        strategy: { kind: 'lowest-free', steal: 'oldest', resume: true },
        transpose: 0,
        notes: [0, 127],
        duty: { base: 0.5, low: 0.05, high: 0.5 },
        onLost: 'move',
        gapMs: 0,
      },
    ],
    patterns: [],
  })
})

test('the rest of the show', () => {
  const { thru, tunings, setList, switching, clock, guards } = parsed()
  expect({ thru, tunings, setList, switching, clock, guards }).toEqual({
    thru: [],
    tunings: [{ id: 'even', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 440 }],
    setList: ['tide'],
    switching: { enterAt: 'now', controls: [] },
    clock: { send: [], afterSleep: 'stop' },
    guards: { flash: { action: 'warn' }, supply: { action: 'refuse' } },
  })
})

test('a song is in the first tuning of the show, and a tempo keeps all its decimals', () => {
  const thirds = { id: 'thirds', kind: 'equal', steps: 19, periodCents: 1200, refNote: 60, refHz: 262 }
  const [song] = glasshouse().songs as RawShow[]
  const show = parsed({ tunings: [thirds], songs: [{ ...song, tempo: 97.0625123 }] })
  expect(show.songs[0]).toMatchObject({ tuning: 'thirds', tempo: 97.0625123 })
})
