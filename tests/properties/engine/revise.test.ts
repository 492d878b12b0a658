import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Show } from '../../../src/domain/show.ts'
import type { Played } from '../../support/arbitrary-playing.ts'
import { arbitraryPlaying, lettingGo } from '../../support/arbitrary-playing.ts'
import { arbitraryShow } from '../../support/arbitrary-show.ts'
import { startEngine } from '../../support/engine-run.ts'
import { checkAsyncProperty } from '../../support/property.ts'
import { parseShow } from '../../../src/show/parse-show.ts'
import { strategies } from '../../../src/strategies/registry.ts'

/** Of the keys that are played. */
const LETTING_GO = lettingGo().filter(({ bytes }) => bytes[1] === 64 || bytes[1] === 66 || isPlayed(bytes[1]))

function isPlayed(key = 0): boolean {
  return key >= 36 && key <= 60
}

const PORTS: Readonly<Record<string, string>> = { keys: 'Keybed', pads: 'Pads', bass: 'Bass' }

/** How an edit differs from the show as it was. */
interface Edit {
  readonly after: number
  readonly kind: 'song' | 'other song' | 'title' | 'watts' | 'set list' | 'gone' | 'bad'
  readonly song: Show['songs'][number]
}

/** The show with two songs, and what makes its next version. */
function edited(show: Show, { kind, song }: Edit): Show {
  const [first, second] = show.songs
  if (!first || !second) return show
  // Parts go by the lamps and players there are, in any of these shows the same.
  const known = new Set(show.rig.lamps.map(({ id }) => id))
  const parts = song.parts.filter(({ lamps }) => lamps.every((lamp) => known.has(lamp)))
  const other = { ...first, parts: parts.length > 0 ? parts : first.parts, tempo: song.tempo }
  switch (kind) {
    case 'song':
      return { ...show, songs: [other, second] }
    case 'other song':
      return { ...show, songs: [first, { ...other, id: second.id }] }
    case 'title':
      return { ...show, title: `${show.title}, again` }
    case 'watts':
      return {
        ...show,
        rig: { ...show.rig, lamps: show.rig.lamps.map((lamp) => ({ ...lamp, watts: lamp.watts + 1 })) },
      }
    case 'set list':
      return { ...show, setList: show.setList.toReversed() }
    case 'gone':
      return { ...show, setList: [second.id], songs: [second, { ...first, id: `${first.id}'` }] }
    case 'bad':
      return { ...show, setList: ['nowhere'] }
  }
}

const edits = arbitraryShow({ clock: false, longestGate: 1 }).chain((show) =>
  fc.record({
    show: fc.constant({
      ...show,
      songs: [...show.songs, ...show.songs.map((song) => ({ ...song, id: 'second' }))],
      setList: ['song', 'second'],
    }),
    playing: arbitraryPlaying,
    edits: fc.array(
      fc.record({
        after: fc.nat(20),
        kind: fc.constantFrom('song', 'song', 'other song', 'title', 'watts', 'set list', 'gone', 'bad'),
        song: arbitraryShow({ clock: false, longestGate: 1 }).map(
          ({ songs }) => songs[0] as Show['songs'][number],
        ),
      }) satisfies fc.Arbitrary<Edit>,
      { minLength: 1, maxLength: 6 },
    ),
    go: fc.array(fc.nat(20), { maxLength: 2 }),
  }),
)

test('whatever is edited while it is played, once all is let go every lamp is dark, owned by nobody, and no note sounds', async () => {
  await checkAsyncProperty(
    'edits while playing',
    fc.asyncProperty(edits, async ({ show, playing, edits: changes, go }) => {
      const { machine, ask, of } = startEngine(show)
      const devices = new Map(
        Object.entries(PORTS).map(([player, port]) => [player, machine.midiIn.plug('input', port)]),
      )
      const box = machine.midiOut.plug('output', 'din')
      const text = (one: Show): string => JSON.stringify(one)
      ask({ v: 1, type: 'load', text: text(show), rig: 'real' })
      await machine.timers.pass(400_000)
      let now: Show = show
      let bad = 0
      const play = async (played: readonly Played[], between: (place: number) => void): Promise<void> => {
        for (const [place, { player, bytes, after }] of played.entries()) {
          if (after > 0) await machine.timers.pass(after)
          between(place)
          devices.get(player)?.deliver(Uint8Array.from(bytes))
        }
      }
      await play(playing, (place) => {
        if (go.includes(place)) ask({ v: 1, type: 'go', to: 'next' })
        for (const edit of changes) {
          if (edit.after !== place) continue
          const next = edited(now, edit)
          const parsed = parseShow(text(next), strategies)
          if (parsed.ok) now = parsed.show
          else bad++
          ask({ v: 1, type: 'revise', text: text(next) })
        }
      })
      // A swap under way ends first, so that all hear of the end.
      await machine.timers.pass(1_500_000)
      await play(LETTING_GO, () => {})
      // The longest canon: a lamp an eighth of a slow song after the other.
      await machine.timers.pass(4_500_000)
      // Those that better ones overtake are not answered.
      expect(of('load-failed').length).toBeLessThanOrEqual(bad)
      expect(of('loaded').at(-1)?.title).toBe(now.title)
      expect(of('loaded').at(-1)?.songs).toEqual(now.songs.map(({ id }) => id))
      expect(
        of('lamps')
          .at(-1)
          ?.lamps.filter((lamp) => lamp.on),
      ).toEqual([])
      expect(
        machine.boxes
          .get('wire')
          ?.lamps()
          .filter((lamp) => lamp.on),
      ).toEqual([])
      expect(sounding(box.sent.map(({ bytes }) => bytes))).toEqual([])
      expect(
        of('players')
          .at(-1)
          ?.players.flatMap(({ keys }) => keys),
      ).toEqual([])
      expect(of('diagnostic').map(({ diagnostic }) => diagnostic.code)).toEqual([])
      ask({ v: 1, type: 'stop' })
      await machine.timers.pass(600_000)
      expect(of('stopped')).toHaveLength(1)
    }),
    300,
  )
})

/** Notes that were begun and not ended, by the bytes alone (MIDI 1.0 Detailed Specification). */
function sounding(messages: readonly Uint8Array[]): string[] {
  const notes = new Set<string>()
  for (const [status = 0, key = 0, velocity = 0] of messages) {
    const note = `${status & 0x0f} ${key}`
    if (status >> 4 === 9 && velocity > 0) notes.add(note)
    else if (status >> 4 === 8 || status >> 4 === 9) notes.delete(note)
  }
  return [...notes]
}
