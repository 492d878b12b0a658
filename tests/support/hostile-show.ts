import type { Json, RawShow } from './shows.ts'
import { glasshouse } from './shows.ts'

/** Markup, quotes, a reference, letters from right to left, an override of direction, a control character and half of a pair. */
export const HOSTILE = `</style></title><script>alert(1)</script> &amp; "a" 'b' <!-- ]]> \u05e9\u05b4\u05c1\u05d9\u05e8 \u202e\u0001\ud800`
/** The same as a page shows it: what HTML cannot hold is U+FFFD. */
export const HOSTILE_SHOWN = HOSTILE.replaceAll('\u0001', '\ufffd').replaceAll('\ud800', '\ufffd')

const LONG = 'x'.repeat(64)
const LONG_TITLE = 'W'.repeat(200)

/** A valid show whose every text is as bad as the reader lets it be. */
export function hostileShow(): RawShow {
  const lamps = ['fern', LONG]
  const part = (id: string, more: RawShow = {}): RawShow => ({
    id,
    player: LONG,
    lamps,
    strategy: { kind: 'chime', notes: [60, 0] },
    transpose: 12,
    duty: { base: 0.123456, controller: 74, low: 0.012345, high: 0.498765 },
    claim: { when: 'playing', releaseMs: 599_999.5 },
    gapMs: 9999.5,
    ...more,
  })
  const song = (id: string, title: string, more: RawShow = {}): RawShow => ({
    id,
    title,
    notes: `${HOSTILE}\n${LONG_TITLE}\r\n\t${HOSTILE}`,
    parts: [part(LONG), part('line', { strategy: { kind: 'travel', path: lamps, width: 2 } })],
    ...more,
  })
  const controls: Json[] = [
    { player: LONG, on: { kind: 'program' }, do: 'number' },
    { player: LONG, on: { kind: 'controller', controller: 67, channel: 16 }, do: 'next' },
    { player: 'keys', on: { kind: 'note', key: 127 }, do: { song: 'apart' } },
    { player: 'keys', on: { kind: 'note', key: 126 }, do: 'previous' },
    { player: 'keys', on: { kind: 'note', key: 125 }, do: 'variant' },
    { player: 'keys', on: { kind: 'note', key: 124 }, do: 'dark' },
    { player: 'keys', on: { kind: 'program', program: 127 }, do: { place: 1 } },
  ]
  return glasshouse({
    title: HOSTILE,
    rig: {
      supplies: [{ id: LONG, volts: 12, maxAmps: 500 }],
      outputs: [{ id: 'wire', kind: 'serial', port: 'virtual' }],
      lamps: [
        { id: 'fern', name: HOSTILE, output: 'wire', slot: 0, supply: LONG, watts: 10 },
        { id: LONG, name: LONG_TITLE, output: 'wire', slot: 1, supply: LONG, watts: 10 },
      ],
    },
    players: [
      { id: LONG, name: HOSTILE, kind: 'pads', input: { port: HOSTILE } },
      { id: 'keys', name: LONG_TITLE, kind: 'keys', input: { port: LONG_TITLE } },
    ],
    songs: [
      song('tide', HOSTILE, { minutes: 600 }),
      song(LONG, LONG_TITLE, { variantOf: 'tide', tempo: 97.06254999 }),
      song('apart', 'Apart', { parts: [], skip: true, minutes: 0.25 }),
      song('last', 'Last', { skip: true }),
    ],
    setList: ['tide', 'last'],
    switching: { enterAt: 'release', controls },
  })
}
