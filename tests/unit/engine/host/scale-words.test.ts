import { copyFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { scalesWords } from '../../../../app/engine/host/scale-words.ts'
import { fromHost } from '../../../../src/contract/from-host.ts'
import { parseShow } from '../../../../src/show/parse-show.ts'
import { strategies } from '../../../../src/strategies/registry.ts'
import { SCALES } from '../../../support/demo.ts'
import { HostRun } from '../../../support/host-run.ts'
import { scratchFolder } from '../../../support/scratch.ts'
import { glasshouse } from '../../../support/shows.ts'

const SCL = '! reed.scl\n!\nReeds\n 3\n!\n 9/8\n 701.955\n 2/1\n'
const KBM = '2\n0\n127\n60\n60\n256.0\n3\n0\nx\n'

async function opened(place: 'browser' | 'remote' = 'browser') {
  const run = new HostRun()
  await run.host.openDemo()
  run.play()
  return { run, screen: run.screen(place) }
}

test('a scale file and its mapping are read for any screen, and nothing in the show is changed', async () => {
  const { screen } = await opened('remote')
  const { revision } = screen.last('show')
  screen.ask({ type: 'read-scale', name: 'reed.scl', scl: SCL })
  expect(screen.last('scale-read')).toMatchObject({
    name: 'reed.scl',
    scale: { name: 'Reeds', pitches: ['9/8', 701.955, '2/1'], refNote: 60, refHz: 261.6255653005986 },
    faults: [],
  })
  screen.ask({ type: 'read-scale', name: 'reed.scl', scl: SCL, kbm: KBM })
  const map = { first: 0, last: 127, middle: 60, formalOctave: 3, degrees: [0, null] }
  expect(screen.last('scale-read').scale).toMatchObject({ map, refNote: 60, refHz: 256 })
  expect(screen.last('show').revision).toBe(revision)
})

test.each([
  [{ scl: 'Reeds\n2\n9/8\n-2/1\n' }, [/^reed\.scl \(line 4\): found "-2\/1"; expected /]],
  [{ scl: KBM }, [/^reed\.scl \(line 1\): found a keyboard mapping \(\.kbm\); expected a scale file/]],
  [{ scl: SCL, kbm: SCL }, [/^the \.kbm of reed\.scl \(line 1\): found a scale file \(\.scl\)/]],
  [
    { scl: '', kbm: KBM.replace('60\n256', '61\n256') },
    [/^reed\.scl \(line 1\): found nothing but comments/, /^the \.kbm of reed\.scl \(line 5\): found key 61/],
  ],
  [
    { scl: `Reeds\n0\n${'!\n'.repeat(300_000)}` },
    [/^reed\.scl \(line 1\): found a file of 600008 characters; expected at most/],
  ],
])('what cannot be read is told, with nothing to put into the show: %#', async (files, faults) => {
  const { screen } = await opened()
  screen.ask({ type: 'read-scale', name: 'reed.scl', ...files })
  const word = screen.last('scale-read')
  expect(word).toMatchObject({ name: 'reed.scl', scale: null })
  expect(word.faults).toEqual(faults.map((fault) => expect.stringMatching(fault)))
})

test('more text than a message may have is told as not understood', async () => {
  const { screen } = await opened()
  screen.ask({ type: 'read-scale', name: 'reed.scl', scl: 'x'.repeat(1_000_001) })
  expect(screen.last('not-understood').message).toMatch(/^scl: /)
})

test('what is read is a tuning that an edit can put into the show, and comes back when it is written', async () => {
  const { screen } = await opened()
  screen.ask({ type: 'read-scale', name: 'reed.scl', scl: SCL, kbm: KBM })
  const { scale } = screen.last('scale-read')
  const value = { id: 'reeds', kind: 'scale', ...scale } as never
  const { revision } = screen.last('show')
  screen.ask({
    type: 'edit',
    base: revision,
    label: 'tuning',
    changes: [{ do: 'insert', path: ['tunings', 0], value }],
  })
  expect(screen.of('edit-refused')).toEqual([])
  screen.ask({ type: 'write-scale', tuning: 'reeds' })
  const { tuning, scl, kbm } = screen.last('scale-written')
  expect(tuning).toBe('reeds')
  screen.ask({ type: 'read-scale', name: 'reeds.scl', scl, kbm })
  expect(screen.last('scale-read').scale).toEqual(scale)
})

test('an equal tuning is written as well; a received one, or one that is not there, is refused with what to do', async () => {
  const { run, screen } = await opened()
  const heard = { id: 'heard', kind: 'received', player: 'keys', base: 'even' }
  const even = { id: 'even', kind: 'equal', steps: 5, periodCents: 1200, refNote: 60, refHz: 256 }
  const path = join(run.folder, 'show.json')
  writeFileSync(path, JSON.stringify(glasshouse({ tunings: [even, heard] })))
  expect(await run.host.openFile(path)).toBeUndefined()
  screen.ask({ type: 'write-scale', tuning: 'even' })
  const { scl, kbm } = screen.last('scale-written')
  expect(scl).toBe(
    '! even.scl\n!\n5 equal steps of 1200 cents\n 5\n!\n 240.0\n 480.0\n 720.0\n 960.0\n 1200.0\n',
  )
  expect(kbm).toContain('\n60\n256.0\n')
  screen.ask({ type: 'write-scale', tuning: 'heard' })
  expect(screen.last('failed')).toMatchObject({
    what: 'write-scale',
    message: expect.stringMatching(
      /^the tuning "heard" is what a player's instrument says .* write its base "even"$/,
    ),
  })
  screen.ask({ type: 'write-scale', tuning: 'gone' })
  expect(screen.last('failed').message).toBe('the show has no tuning "gone"; it was changed meanwhile')
})

test('with no show open there is nothing to write; a scale file can be read all the same', () => {
  const screen = new HostRun().screen()
  screen.ask({ type: 'write-scale', tuning: 'even' })
  expect(screen.last('failed')).toMatchObject({ what: 'write-scale', message: 'no show is open' })
  screen.ask({ type: 'read-scale', name: 'reed.scl', scl: SCL })
  expect(screen.last('scale-read').faults).toEqual([])
})

test('the scales of the house are told with what they are good for, each one that a show takes', async () => {
  const { screen } = await opened()
  screen.ask({ type: 'ask-scales' })
  const { scales } = await screen.next('scales')
  expect(scales.length).toBeGreaterThan(12)
  expect(scales.map(({ id }) => id)).toEqual(scales.map(({ id }) => id).sort())
  expect(scales.find(({ id }) => id === 'twelfth-in-13')).toMatchObject({
    about: expect.stringMatching(/^Good for square light/),
    scale: { name: 'Thirteen equal parts of the twelfth (3/1)', refNote: 60 },
  })
  const tunings = scales.map(({ id, scale }) => ({ id, kind: 'scale', ...scale }))
  const even = { id: 'even', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 440 }
  const parsed = parseShow(JSON.stringify({ ...glasshouse(), tunings: [even, ...tunings] }), strategies)
  expect(parsed.ok ? [] : parsed.faults).toEqual([])
  expect(screen.of('failed')).toEqual([])
})

test('a scale of the house that cannot be read is left out and told, as is a folder that is not there', async () => {
  const folder = scratchFolder()
  copyFileSync(join(SCALES, 'equal-05.scl'), join(folder, 'equal-05.scl'))
  writeFileSync(join(folder, 'torn.scl'), 'Torn\n3\n9/8\n')
  writeFileSync(join(folder, 'notes.txt'), 'nothing')
  const words = await scalesWords(folder)
  expect(words.every((word) => fromHost.safeParse(word).success)).toBe(true)
  expect(words).toMatchObject([
    { type: 'scales', scales: [{ id: 'equal-05' }] },
    {
      type: 'failed',
      what: 'ask-scales',
      message: expect.stringContaining('torn.scl (line 3): found 1 pitch; expected 3'),
    },
  ])
  expect(await scalesWords(join(folder, 'gone'))).toMatchObject([
    { type: 'scales', scales: [] },
    { type: 'failed', message: expect.stringMatching(/^scales of the house cannot be read: ENOENT/) },
  ])
})

test('while the gig lock is on files are still read, and the house still tells its scales', async () => {
  const { screen } = await opened()
  screen.ask({ type: 'lock', locked: true })
  screen.ask({ type: 'read-scale', name: 'reed.scl', scl: SCL })
  expect(screen.last('scale-read').faults).toEqual([])
  screen.ask({ type: 'ask-scales' })
  await screen.next('scales')
  screen.ask({ type: 'write-scale', tuning: screen.last('show').show.tunings[0]?.id ?? '' })
  expect(screen.last('scale-written').scl).toMatch(/^! /)
  expect(screen.of('refused')).toEqual([])
})
