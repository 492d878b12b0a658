import { expect, test } from 'vitest'
import { countingWords, takeRows, TAKE_COLUMNS, withTakes } from '../../../../app/screens/checks/take-rows.ts'
import type { TakeChecks } from '../../../../app/screens/checks/take-rows.ts'
import type { Finding } from '../../../../app/screens/checks/sift-findings.ts'
import { takeChecksWord } from '../../../../app/engine/host/take-words.ts'
import { fromHost } from '../../../../src/contract/from-host.ts'
import { glasshouse } from '../../../support/shows.ts'
import { checkedGig, strummed, takeFile } from '../../../support/song-takes.ts'
import { validShow } from '../../../support/valid-show.ts'

const songs = ['tide', 'ebb', 'slack'].map((id) => ({
  ...(glasshouse()['songs'] as object[])[0],
  id,
  title: id.toUpperCase(),
}))
const SHOW = validShow(glasshouse({ songs }))

function word(revision = 3): TakeChecks {
  const gig = checkedGig(SHOW, {
    tide: [takeFile({ keys: strummed(69, 5, 3) })],
    ebb: [takeFile({ keys: strummed(69, 1, 3) }), Uint8Array.of(1, 2, 3)],
  })
  const read = fromHost.parse(takeChecksWord(revision, SHOW, gig))
  if (read.type !== 'take-checks') throw new Error(read.type)
  return read
}

test('a row for each take, in the host’s order, a cell for each column', () => {
  const rows = takeRows(word(), SHOW)
  expect(rows.map(({ title, take }) => [title, take])).toEqual([
    ['EBB', 'ebb-1.mid'],
    ['EBB', 'ebb-2.mid'],
    ['TIDE', 'tide-1.mid'],
    ['SLACK', ''],
  ])
  expect(rows[1]?.cells).toBe('could not be counted')
  expect(rows[3]?.cells).toBe('no take: nothing counted')
  // 10 W at 12 V are 0.83 A; the limit is 80 % of 5 A. One of four lamps.
  expect(rows[2]?.cells).toEqual([
    '2.9',
    '5',
    '5, fern',
    '2.8',
    '2.8',
    '25 %',
    '25 %',
    '0 of 15',
    expect.stringMatching(/^0\.\d\d$/),
    'bench 0.833 of 4',
  ])
  expect(rows[2]?.cells).toHaveLength(TAKE_COLUMNS.length)
})

test('what was found in takes stands with the rest: gravest first, worst song first', () => {
  const own: Finding[] = (['fault', 'warning', 'note'] as const).map((gravity) => ({
    gravity,
    where: '$',
    message: 'its own',
  }))
  const all = withTakes(own, word())
  const graves = all.map(({ gravity }) => gravity)
  expect(graves).toEqual([
    ...graves.filter((one) => one === 'fault'),
    ...graves.filter((one) => one === 'warning'),
    ...graves.filter((one) => one === 'note'),
  ])
  expect(all.length).toBe(3 + word().songs.flatMap(({ findings }) => findings).length)
  expect(all[0]?.where).toBe('song ebb, take ebb-2.mid')
  expect(all[1]).toBe(own[0])
  expect(withTakes(own, undefined)).toEqual(own)
  const bare = { ...word(), songs: word().songs.filter(({ song }) => song === 'slack') }
  const [one] = bare.songs
  if (!one) throw new Error('a song without a take')
  const five = ['a', 'b', 'c', 'd', 'e'].map((song) => ({
    ...one,
    findings: one.findings.map((finding) => ({ ...finding, where: `song ${song}` })),
  }))
  expect(withTakes([], { ...bare, songs: five }).map(({ where }) => where)).toEqual([
    'song a; song b; song c and 2 more',
  ])
})

test('how it stands with counting', () => {
  const counting = { revision: 4, done: 1, of: 3 }
  expect(countingWords(3, undefined, undefined)).toBe('Counting takes...')
  expect(countingWords(4, undefined, counting)).toBe('Counting takes: 1 of 3 done.')
  expect(countingWords(4, word(), counting)).toBe(
    'Counting takes: 1 of 3 done. What stands here was counted for revision 3.',
  )
  expect(countingWords(5, word(), counting)).toBe(
    'Counting takes... What stands here was counted for revision 3.',
  )
  expect(countingWords(3, word(), undefined)).toBe('Counted three takes for revision 3 of the show.')
  expect(countingWords(3, { ...word(), songs: [] }, undefined)).toMatch(/^No song names a take/)
})
