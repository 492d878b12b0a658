import { expect, test } from 'vitest'
import { gigCheck } from '../../../../src/offline/gig-check/gig-check.ts'
import { quietHouse, rig } from '../../../support/checked-show.ts'
import type { Json, RawShow } from '../../../support/shows.ts'
import { glasshouse, GLASSHOUSE_LAMPS } from '../../../support/shows.ts'
import { checkedGig, strummed, takeFile } from '../../../support/song-takes.ts'
import { validShow } from '../../../support/valid-show.ts'

const song = (id: string, more: RawShow = {}): Json => ({
  id,
  title: id.toUpperCase(),
  parts: [{ id: 'lead', player: 'keys', lamps: [...GLASSHOUSE_LAMPS], strategy: { kind: 'lowest-free' } }],
  ...more,
})

function messages(show: RawShow, take: Uint8Array): string[] {
  const [first] = checkedGig(validShow(show), { tide: [take] }).songs
  return (first?.findings ?? []).map(({ gravity, message }) => `${gravity}: ${message}`)
}

// WCAG 2.2, success criterion 2.3.1: three flashes in any one second, a flash being a pair of opposing changes.
test('flashes: five strikes a second are five flashes, of the field and of the lamp', () => {
  const found = messages(quietHouse(), takeFile({ keys: strummed(69, 5, 3) }))
  expect(found[0]).toBe(
    'warning: the field flashes up to 5 times in one second, lamp fern alone up to 5. WCAG 2.2 SC 2.3.1 allows at most 3 flashes in any one second.',
  )
  // Onsets 0.2 s apart are 5 Hz, from the first to the last: 14 times 0.2 s.
  expect(found[1]).toMatch(/^warning: for 2\.8 of 2\.9 s a lamp flashes at 3 to 30 Hz, .*: fern 2\.8 s\.$/)
})

test('two strikes a second are told by no warning', () => {
  const found = messages(quietHouse(), takeFile({ keys: strummed(69, 2, 3) }))
  expect(found.filter((one) => !one.startsWith('note'))).toEqual([])
})

// ITU-R BT.1702 (second-hand): more than a quarter of the view, more than three times a second.
test('the share of lamps that flash together is told where it is more than a quarter', () => {
  const chord = [60, 64, 67].flatMap((key) => strummed(key, 5, 2))
  const share = (keys: typeof chord): string[] =>
    messages(quietHouse(), takeFile({ keys })).filter((one) => one.includes('BT.1702'))
  expect(share(chord)[0]).toMatch(
    /^warning: up to 75 % of the lamps go on and off in one flash of the field\./,
  )
  expect(share(strummed(60, 5, 2))).toEqual([])
})

test('a supply that only warns: what is drawn past its limit, and past what it can give', () => {
  const chord = (keys: number[]): Uint8Array => takeFile({ keys: keys.map((key) => [key, 0, 1000] as const) })
  // 20 W at 12 V are 1.67 A each; the limit is 80 % of 5 A.
  const show = quietHouse({ rig: rig({ watts: 20 }), guards: { supply: { action: 'warn' } } })
  const about = (keys: number[]): string[] => messages(show, chord(keys)).filter((one) => one.includes('A'))
  expect(about([60, 64, 67])[0]).toMatch(
    /^warning: supply bench is asked for up to 5 A, past its limit of 4 A \(80 % of 5 A\); in the mean for /,
  )
  expect(about([60, 64, 67, 71])[0]).toMatch(
    /^fault: supply bench is asked for up to 6\.67 A, .*and of the 5 A that it can give/,
  )
  expect(about([60, 64])).toEqual([])
})

test('what guards refuse, and notes that never light a lamp', () => {
  const show = quietHouse({ rig: rig({ watts: 20 }) })
  const take = takeFile({ keys: [60, 64, 67].map((key) => [key, 0, 1000] as const) })
  const found = messages(show, take)
  expect(found.find((one) => one.includes('never light'))).toBe('warning: 1 of 3 notes never light a lamp.')
  expect(found.find((one) => one.includes('asked for was not lit'))).toMatch(
    /^warning: .*part lead: lamp \w+ not lit, its supply is at its limit/,
  )
})

test('a pitch far off', () => {
  // MIDI 1.0: 7 bits of a bend of 96 semitones are steps of 96 x 100 / 64 = 150 cents; 452 Hz is 1200 log2(452 / 440) = 46.6 cents above key 69.
  const output = {
    id: 'wire',
    kind: 'midi',
    port: 'Box',
    layout: 'channel-per-lamp',
    bendRange: 96,
    bendBits: 7,
  }
  const tunings: Json = [{ id: 'odd', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 452 }]
  const parts: Json = [{ id: 'lead', player: 'keys', lamps: ['fern'], strategy: { kind: 'lowest-free' } }]
  const show = glasshouse({
    rig: rig({}, [output]),
    tunings,
    songs: [{ id: 'tide', title: 'Tide table', tuning: 'odd', parts }],
  })
  const found = messages(show, takeFile({ keys: strummed(69, 1, 2) }))
  expect(found.find((one) => one.includes('cents off'))).toMatch(/^warning: a lamp is up to 46\.6 cents off/)
})

test('worst song first: faults, warnings by how often they flash, what was not counted, the rest', () => {
  const ids = ['calm', 'quick', 'bare', 'broken', 'slow']
  const show = validShow(glasshouse({ songs: ids.map((id) => song(id)) }))
  const gig = checkedGig(show, {
    calm: [takeFile({ keys: strummed(69, 1, 3) })],
    quick: [takeFile({ keys: strummed(69, 9, 3) })],
    broken: [takeFile({ keys: strummed(69, 1, 3) }), Uint8Array.of(0)],
    slow: [takeFile({ keys: strummed(69, 4, 3) })],
  })
  expect(gig.songs.map(({ song: { id } }) => id)).toEqual(['broken', 'quick', 'slow', 'bare', 'calm'])
  expect(gig.songs[0]?.takes.map(({ ok }) => ok)).toEqual([true, false])
  expect(gig.songs[0]?.findings[0]).toMatchObject({
    gravity: 'fault',
    where: 'song broken, take broken-2.mid',
    message: expect.stringContaining('not a MIDI file'),
  })
  expect(gig.songs[3]?.findings).toEqual([
    {
      gravity: 'note',
      where: 'song bare',
      path: ['songs', 2],
      message: expect.stringMatching(/^it has no take, so nothing that it does was counted/),
    },
  ])
})

test('the songs of the night, and others only where they were counted', () => {
  const show = validShow(glasshouse({ songs: ['a', 'b', 'c'].map((id) => song(id)), setList: ['b'] }))
  const take = takeFile({ keys: strummed(69, 1, 1) })
  expect(gigCheck(show, []).songs.map(({ song: { id } }) => id)).toEqual(['b'])
  expect(checkedGig(show, { c: [take] }).songs.map(({ song: { id } }) => id)).toEqual(['b', 'c'])
})
