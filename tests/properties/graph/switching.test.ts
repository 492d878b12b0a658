import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { ClaimsState } from '../../../src/claims/claims.ts'
import type { LampState } from '../../../src/domain/lamp-state.ts'
import { DARK } from '../../../src/domain/lamp-state.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { TapEvent } from '../../../src/graph/tap.ts'
import { arbitrarySwitching, lettingGo } from '../../support/arbitrary-playing.ts'
import { arbitraryShow } from '../../support/arbitrary-show.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { checkProperty } from '../../support/property.ts'
import { replayLamps } from '../../support/replayed-lamps.ts'

const SONGS = 4

/**
 * Goes through what the graph said, moment by moment: one frame in each, lit lamps within the supply, and lit by parts of the song that plays. Returns how many songs
 * began.
 */
function watchMoments(show: Show, events: readonly TapEvent[], first: string): number {
  const parts = new Map(show.songs.map(({ id, parts: own }) => [id, own.map((part) => part.id)]))
  const [supply] = show.rig.supplies
  const limit = (supply?.volts ?? 0) * (supply?.maxAmps ?? 0) * (supply?.usable ?? 0)
  const states: LampState[] = show.rig.lamps.map(() => DARK)
  let song = first
  let begun = 0
  let framedAt = -1
  events.forEach((event, place) => {
    if (event.kind === 'song') {
      song = event.place.song
      begun++
    }
    if (event.kind === 'frame') {
      if (event.at === framedAt) throw new Error(`two frames at ${event.at}`)
      framedAt = event.at
      for (const { index, state } of event.changes) states[index] = state
    }
    if (events[place + 1]?.at === event.at) return
    const lit = states.filter((state) => state.on)
    if (lit.length * 10 > limit + 1e-6) throw new Error(`over the supply at ${event.at}`)
    for (const { part } of lit)
      if (!parts.get(song)?.includes(part)) throw new Error(`${part} lit in ${song} at ${event.at}`)
  })
  return begun
}

/** Notes that sound at the MIDI output's other end, by its messages alone. */
function leftSounding(events: readonly TapEvent[]): readonly string[] {
  const sounding = new Set<string>()
  for (const event of events) {
    if (event.kind !== 'bytes' || !event.message) continue
    const { message } = event
    if (message.type === 'note-on') sounding.add(`${event.output} ${message.channel} ${message.key}`)
    if (message.type === 'note-off') sounding.delete(`${event.output} ${message.channel} ${message.key}`)
  }
  return [...sounding]
}

function ownersOf(run: GraphRun): readonly number[] {
  return (run.graph.save().cells.claims?.state as ClaimsState | undefined)?.owner ?? []
}

/** The names of the stages in the agenda. */
function cellNames(run: GraphRun): readonly string[] {
  return Object.keys(run.graph.save().cells).toSorted()
}

test('songs changed at random while a band plays: one song lights lamps at a time, and in the end all is dark', () => {
  let switches = 0
  let carried = 0
  checkProperty(
    'switching',
    fc.property(arbitraryShow({ songs: SONGS, clock: false }), arbitrarySwitching, (show, playing) => {
      const run = new GraphRun(show)
      const first = run.graph.song
      run.play(playing)
      run.play(lettingGo('played'), run.graph.now + 1)
      run.runOut()
      expect(run.litLamps()).toEqual([])
      expect(ownersOf(run)).toEqual(show.rig.lamps.map(() => -1))
      expect(leftSounding(run.events)).toEqual([])
      const faults = run.of('diagnostic').filter(({ diagnostic }) => diagnostic.code !== 'no-place')
      expect(faults).toEqual([])
      switches += watchMoments(show, run.events, first)
      carried += run.of('song').filter(({ enter }) => enter === 'carry').length
      // The outputs' other ends, by their bytes alone, where their model knows the layout.
      const din = show.rig.outputs.find(({ kind }) => kind === 'midi')
      if (din?.kind === 'midi' && din.layout === 'channel-per-lamp') replayLamps(show, run.events)
      const afresh = new GraphRun({ ...show, setList: [run.graph.song, ...show.setList] })
      // Nothing of songs before stands in the agenda: it is as if this one had been the first.
      expect(cellNames(run)).toEqual(cellNames(afresh))
    }),
    1_400,
  )
  console.log(`${switches} switches, ${carried} of them carried`)
  expect(switches).toBeGreaterThan(10_000)
  expect(carried).toBeGreaterThan(3_000)
})

test('a dark-all among it all darkens everything, and nothing comes back by itself, not even a song that was to come', () => {
  checkProperty(
    'switching and dark-all',
    fc.property(arbitraryShow({ songs: SONGS }), arbitrarySwitching, (show, playing) => {
      const run = new GraphRun(show)
      run.graph.advance(run.play(playing))
      run.graph.darkAll(run.graph.now + 1)
      expect(run.litLamps()).toEqual([])
      expect(run.graph.coming).toBeNull()
      expect(leftSounding(run.events)).toEqual([])
      const { song } = run.graph
      run.events.length = 0
      run.runOut(10_000_000)
      expect(run.of('frame')).toEqual([])
      expect(run.graph.song).toBe(song)
    }),
    150,
  )
})

test('a carried note goes on as the same strike: struck anew only on lamps where it did not sound', () => {
  let wentOn = 0
  checkProperty(
    'carried notes',
    fc.property(arbitraryShow({ songs: SONGS, held: false }), arbitrarySwitching, (show, playing) => {
      const run = new GraphRun(show)
      const states: LampState[] = show.rig.lamps.map(() => DARK)
      run.graph.advance(run.play(playing))
      let begins: TapEvent | undefined
      for (const event of run.events) {
        if (event.kind === 'song') begins = event
        if (event.kind !== 'frame') continue
        const isFirst = begins?.kind === 'song' && begins.at === event.at
        const mayGoOn = begins?.kind === 'song' && begins.enter === 'carry'
        // What is played at the same time in a moment after it may strike again.
        begins = undefined
        for (const { index, state } of event.changes) {
          const before = states[index] ?? DARK
          states[index] = state
          if (!isFirst || !state.on) continue
          // A pattern's own notes are 0, each of them another.
          const isSame =
            before.on && state.note > 0 && before.note === state.note && before.player === state.player
          if (isSame) wentOn++
          expect(state.strike).toBe(!isSame)
          expect(isSame && !mayGoOn).toBe(false)
        }
      }
    }),
    400,
  )
  expect(wentOn).toBeGreaterThan(15)
})

test('songs made ready before they are asked for play as those that are not', () => {
  const ready = fc.array(fc.nat(SONGS), { minLength: 1, maxLength: 12 })
  checkProperty(
    'prepared songs',
    fc.property(arbitraryShow({ songs: SONGS }), arbitrarySwitching, ready, (show, playing, songs) => {
      const plain = new GraphRun(show)
      plain.play(playing)
      plain.runOut(2_000_000)
      const prepared = new GraphRun(show)
      let at = 0
      playing.forEach(({ player, bytes, after }, place) => {
        at += after
        const song = songs[place % songs.length] ?? 0
        if (song < SONGS) prepared.graph.prepare(`song${song}`)
        else prepared.graph.keepPrepared(new Set(['song0']))
        prepared.graph.play(player, bytes, at)
      })
      prepared.runOut(2_000_000)
      expect(prepared.bytes()).toEqual(plain.bytes())
      expect(prepared.of('frame')).toEqual(plain.of('frame'))
      expect(prepared.of('song')).toEqual(plain.of('song'))
    }),
    100,
  )
})
