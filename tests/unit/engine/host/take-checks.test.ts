import { spawnSync } from 'node:child_process'
import { mkdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { readTakeFile } from '../../../../app/engine/host/take-file.ts'
import { today } from '../../../../app/engine/host/today.ts'
import { DEMO_TAKE, demoShow } from '../../../support/demo.ts'
import { eventually } from '../../../support/eventually.ts'
import type { HeldScreen } from '../../../support/host-run.ts'
import { HostRun, retitle } from '../../../support/host-run.ts'
import { scratchFolder } from '../../../support/scratch.ts'
import { glasshouse } from '../../../support/shows.ts'
import { checkedGig, strummed, takeFile } from '../../../support/song-takes.ts'
import { pageWords } from '../../../support/page-words.ts'

const SHORT = takeFile({ keys: strummed(69, 5, 3) })
const LONG = takeFile({ keys: strummed(60, 12, 240) })

async function demo() {
  const run = new HostRun()
  await run.host.openDemo()
  run.play()
  return { run, screen: run.screen() }
}

/** A show in a file, with takes by their names in its folder. */
async function opened(
  takes: Readonly<Record<string, Uint8Array>>,
  named: readonly string[] = Object.keys(takes),
) {
  const run = new HostRun()
  const path = join(run.folder, 'show.json')
  const songs = (glasshouse()['songs'] as object[]).map((song) => ({ ...song, takes: [...named] }))
  writeFileSync(path, JSON.stringify(glasshouse({ songs })))
  for (const [name, bytes] of Object.entries(takes)) writeFileSync(join(run.folder, name), bytes)
  const screen = run.screen()
  screen.ask({ type: 'open-file', path })
  await screen.next('show')
  run.play()
  return { run, path, screen }
}

/** The next count that is whole. */
async function countedBy(screen: HeldScreen) {
  const whole = () => screen.of('take-checks').filter(({ counting }) => counting === null)
  const before = whole().length
  screen.ask({ type: 'ask-take-checks' })
  await eventually(() => whole().length > before, 20_000)
  return whole().at(-1)!
}

test('the demo: how far it is, then what render counts, worst song first, and both notices', async () => {
  const { screen } = await demo()
  const word = await countedBy(screen)
  expect(screen.of('take-checks')[0]).toMatchObject({
    counting: { done: 0, of: 3 },
    songs: [],
    notices: null,
  })
  const bytes = Uint8Array.from(readFileSync(DEMO_TAKE))
  const gig = checkedGig(demoShow(), { dew: [bytes], mist: [bytes], growth: [bytes] })
  expect(word.songs.map(({ song }) => song)).toEqual(gig.songs.map(({ song }) => song.id))
  const [first] = gig.songs[0]?.takes ?? []
  if (!first?.ok) throw new Error('the demo take is counted')
  const { report } = first
  expect(word.songs[0]?.takes).toMatchObject([
    {
      take: 'glasshouse.mid',
      figures: {
        seconds: report.seconds,
        fieldPerSecondMax: report.flash.fieldPerSecondMax,
        bandSeconds: report.flash.bandSeconds,
        under60Seconds: report.flash.under60Seconds,
        litShareMax: report.flash.litShareMax,
        flashShareMax: report.flash.flashShareMax,
        unlit: report.unplaced - first.dropped,
        supplies: [{ supply: 'bench', ...report.supplies['bench'], limitAmps: 8 }],
        guards: report.guards,
      },
    },
  ])
  expect(word.songs.at(-1)).toMatchObject({ song: 'growth-bare', takes: [] })
  expect(word.notices?.audience).toContain('We counted up to 9 flashes in one second')
  expect(word.notices?.venue).toContain('Counted from 3 takes of 3 songs')
})

test('takes of a show in a file lie beside it; what cannot be read is a finding', async () => {
  const names = ['good.mid', 'gone.mid', 'torn.mid', '../outside.mid', '/etc/hostname', '.']
  const { run, screen } = await opened({ 'good.mid': SHORT, 'torn.mid': Uint8Array.of(9, 9, 9) }, names)
  writeFileSync(join(run.folder, '../outside.mid'), SHORT)
  const { songs } = await countedBy(screen)
  expect(songs[0]?.takes.map(({ take, figures }) => [take, figures !== null])).toEqual(
    names.map((name) => [name, name === 'good.mid']),
  )
  const faults = songs[0]?.findings.filter(({ gravity }) => gravity === 'fault') ?? []
  expect(faults.map(({ where, message }) => `${where}: ${message}`)).toEqual([
    'song tide, take gone.mid: there is no such file; check the name',
    expect.stringMatching(/take torn\.mid: this is not a MIDI file/),
    expect.stringMatching(
      /take \.\.\/outside\.mid: takes are looked for in the folder of the show and below it/,
    ),
    expect.stringMatching(/take \/etc\/hostname: takes are looked for in the folder/),
    expect.stringMatching(/take \.: takes are looked for in the folder/),
  ])
  expect(faults[1]?.path).toEqual(['songs', 0, 'takes', 2])
})

test('a show without a file has no folder to look in, and says so', async () => {
  const run = new HostRun()
  const screen = run.screen()
  const songs = (glasshouse()['songs'] as object[]).map((song) => ({ ...song, takes: ['a.mid'] }))
  screen.ask({ type: 'open-text', name: 'a', text: JSON.stringify(glasshouse({ songs })) })
  await screen.next('show')
  const { songs: counted } = await countedBy(screen)
  expect(counted[0]?.findings[0]?.message).toMatch(/the show has no file yet.*save the show first/)
})

test('no show: told', () => {
  const screen = new HostRun().screen()
  screen.ask({ type: 'ask-take-checks' })
  expect(screen.last('failed')).toMatchObject({ what: 'take-checks', message: 'no show is open' })
  screen.ask({ type: 'ask-venue' })
  expect(screen.last('failed')).toMatchObject({ what: 'venue' })
})

test('while it counts, what is played goes through; a show that changes ends it', async () => {
  const { run, screen } = await opened({ 'long.mid': LONG })
  screen.ask({ type: 'ask-take-checks' })
  await eventually(() => screen.of('take-checks').length > 0)
  // Some way into the take, which takes a good deal longer than that.
  await new Promise((resolve) => setTimeout(resolve, 30))
  screen.ask({ type: 'dark-all' })
  expect(run.got('dark-all')).toHaveLength(1)
  expect(screen.of('take-checks').map(({ counting }) => counting)).toEqual([{ done: 0, of: 1 }])
  retitle(screen, 'Changed')
  const word = await countedBy(screen)
  expect(word.revision).toBe(screen.last('show').revision)
  expect(word.notices?.audience).toContain('Changed')
  expect(screen.of('take-checks').filter(({ counting }) => counting === null)).toHaveLength(1)
})

test('screens that ask for the same wait for the same, another device and a locked one as well', async () => {
  const { run, screen } = await opened({ 'a.mid': SHORT })
  screen.ask({ type: 'lock', locked: true })
  const remote = run.screen('remote')
  const [here, there] = await Promise.all([countedBy(screen), countedBy(remote)])
  expect(there).toEqual(here)
  expect(here.songs[0]?.takes[0]?.figures?.fieldPerSecondMax).toBe(5)
})

test('the page for the venue: of that day, of today, with what is counted', async () => {
  const { screen } = await opened({ 'a.mid': SHORT })
  screen.ask({ type: 'ask-venue', date: '2031-02-28' })
  const word = await screen.next('venue')
  expect(word.name).toBe('Glasshouse, for the venue')
  expect(pageWords(word.html)).toContain('For the venue, 2031-02-28')
  expect(pageWords(word.html)).toContain('of the field: 5 (Tide table)')
  screen.ask({ type: 'ask-venue' })
  expect(pageWords((await screen.next('venue')).html)).toContain(`For the venue, ${today()}`)
  screen.ask({ type: 'ask-venue', date: 'tomorrow' } as never)
  expect(screen.last('not-understood').message).toMatch(/^date: /)
})

test('a show that changes while its page is made is told as changed', async () => {
  const { screen } = await opened({ 'long.mid': LONG })
  screen.ask({ type: 'ask-venue' })
  await new Promise((resolve) => setTimeout(resolve, 30))
  retitle(screen, 'Changed')
  expect(await screen.next('failed')).toMatchObject({
    what: 'venue',
    message: expect.stringContaining('changed while its takes were counted; ask again'),
  })
})

test('files that are none are not read, and links within the folder are', async () => {
  const folder = scratchFolder()
  writeFileSync(join(folder, 'a.mid'), SHORT)
  mkdirSync(join(folder, 'below'))
  symlinkSync(join(folder, 'a.mid'), join(folder, 'below/b.mid'))
  spawnSync('mkfifo', [join(folder, 'pipe.mid')])
  expect(await readTakeFile(folder, 'below/b.mid')).toEqual({ ok: true, bytes: Buffer.from(SHORT) })
  expect(await readTakeFile(folder, 'pipe.mid')).toEqual({ ok: false, why: 'that is no file' })
  expect(await readTakeFile(folder, 'below')).toEqual({ ok: false, why: 'that is a folder; name a file' })
  expect(await readTakeFile(folder, 'below/../a.mid')).toMatchObject({ ok: true })
  symlinkSync('round.mid', join(folder, 'round.mid'))
  const round = await readTakeFile(folder, 'round.mid')
  expect(round.ok ? '' : round.why).not.toContain(folder)
})

test('a date by the calendar of this machine', () => {
  expect(today(new Date(2031, 1, 3, 23, 59))).toBe('2031-02-03')
})
