import { readFileSync } from 'node:fs'
import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { readMidiFile } from '../../../../src/midi/file-read.ts'
import { render } from '../../../../src/offline/render.ts'
import { routeTake } from '../../../../src/offline/take.ts'
import { DEMO_TAKE, demoShow } from '../../../support/demo.ts'
import { checkProperty } from '../../../support/property.ts'
import { glasshouse } from '../../../support/shows.ts'
import { counted, strummed, takeFile } from '../../../support/song-takes.ts'
import { validShow } from '../../../support/valid-show.ts'

const HOUSE = validShow(
  glasshouse({ players: [{ id: 'keys', kind: 'keys', input: { port: 'Keybed', channels: [1] } }] }),
)

test('counts what render counts, and the same each time', () => {
  const bytes = Uint8Array.from(readFileSync(DEMO_TAKE))
  const read = readMidiFile(bytes)
  const routed = read.ok ? routeTake(read.file, demoShow()) : undefined
  if (!routed?.ok) throw new Error('the demo take cannot be read')
  const result = counted(demoShow(), 'dew', 'glasshouse.mid', bytes)
  expect(result).toMatchObject({ ok: true, song: 'dew', take: 'glasshouse.mid', torn: [], strangers: [] })
  expect(result.ok && result.report).toEqual(render(demoShow(), 'dew', routed.take).report)
  expect(counted(demoShow(), 'dew', 'glasshouse.mid', bytes)).toEqual(result)
})

test.each([
  ['nothing in it', new Uint8Array(), /the file is empty.*Record or export the take again/],
  ['no MIDI file', Uint8Array.of(1, 2, 3, 4), /this is not a MIDI file: it begins with 01 02 03 04/],
  ['no note', takeFile({ keys: [] }), /there is no note in it/],
  [
    'another band',
    takeFile({ flute: strummed(60, 2, 1) }, 9),
    /^none of its 2 notes feeds a player of this show; call its tracks keys, or play it on their channels$/,
  ],
])('what cannot be counted is the result, with what to do: %s', (_, bytes, why) => {
  expect(counted(HOUSE, 'tide', 'a.mid', bytes)).toEqual({
    ok: false,
    song: 'tide',
    take: 'a.mid',
    why: expect.stringMatching(why),
  })
})

test('a file that is torn off is counted as far as it goes, and said to be torn', () => {
  const whole = takeFile({ keys: strummed(60, 5, 4) })
  const result = counted(HOUSE, 'tide', 'a.mid', whole.slice(0, Math.round(whole.length * 0.6)))
  expect(result.ok && result.torn.length).toBeGreaterThan(0)
  expect(result.ok && result.report.notesIn).toBeLessThan(20)
})

test('a player without a part in the song is a stranger there', () => {
  const show = demoShow()
  const bare = show.songs.map((song) => ({
    ...song,
    parts: song.parts.filter(({ player }) => player !== 'bass'),
  }))
  const take = takeFile({ keys: strummed(60, 2, 1), bass: strummed(40, 3, 1) })
  expect(counted({ ...show, songs: bare }, 'dew', 'a.mid', take)).toMatchObject({
    ok: true,
    strangers: [{ player: 'bass', notes: 3 }],
  })
})

test('never throws, whatever is wrong with the bytes', () => {
  const whole = takeFile({ keys: strummed(60, 10, 1) })
  const hurt = fc.record({
    cut: fc.nat({ max: whole.length }),
    at: fc.array(fc.tuple(fc.nat({ max: whole.length - 1 }), fc.nat({ max: 255 })), { maxLength: 6 }),
  })
  checkProperty(
    'a take whatever its bytes',
    fc.property(hurt, ({ cut, at }) => {
      const bytes = whole.slice(0, cut)
      for (const [place, value] of at) if (place < cut) bytes[place] = value
      const result = counted(HOUSE, 'tide', 'a.mid', bytes)
      expect(result.ok ? result.report.notesIn : result.why.length).toBeGreaterThan(0)
    }),
    100,
  )
})
