import { readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { differenceWords } from '../../../../app/engine/host/show-difference.ts'
import { eventually } from '../../../support/eventually.ts'
import type { HeldScreen } from '../../../support/host-run.ts'
import { HostRun, retitle } from '../../../support/host-run.ts'
import { glasshouse, glasshouseText } from '../../../support/shows.ts'
import { validShow } from '../../../support/valid-show.ts'

async function opened() {
  const run = new HostRun()
  const path = join(run.folder, 'show.json')
  writeFileSync(path, glasshouseText({ title: 'On disk' }))
  await run.host.begin({ show: path })
  run.play()
  return { run, path, screen: run.screen('browser') }
}

const titleIn = (path: string): unknown =>
  (JSON.parse(readFileSync(path, 'utf8')) as { title: unknown }).title

/** Waits until the screen has been told so, looking as often as a host does. */
async function told(run: HostRun, screen: HeldScreen, words: RegExp | null): Promise<void> {
  await eventually(() => {
    run.timers.move(100)
    const { message } = screen.last('file-changed')
    return words === null ? message === null : message !== null && words.test(message)
  })
}

test('a file that somebody else changed is told once, with what and when; put back, it is told as well', async () => {
  const { run, path, screen } = await opened()
  const tablet = run.screen('remote')
  const before = readFileSync(path)
  writeFileSync(path, glasshouseText({ title: 'Theirs' }))
  await told(
    run,
    screen,
    /^show\.json was changed by somebody else at \d\d:\d\d:\d\d: it differs in the title\./,
  )
  expect(tablet.last('file-changed').message).not.toContain(run.folder)
  const count = screen.of('file-changed').length
  run.timers.move(20_000)
  retitle(screen, 'Ours')
  screen.ask({ type: 'save' })
  expect((await screen.next('failed')).message).toContain('left alone')
  expect(screen.of('file-changed')).toHaveLength(count)
  expect(run.screen('browser').last('file-changed').message).toContain('somebody else')
  writeFileSync(path, before)
  await told(run, screen, null)
})

test('an editor that saves by renaming is noticed as well', async () => {
  const { run, path, screen } = await opened()
  const news = (): number => screen.of('file-changed').filter(({ message }) => message !== null).length
  for (const [place, title] of ['One', 'Two'].entries()) {
    writeFileSync(`${path}.new`, glasshouseText({ title }))
    renameSync(`${path}.new`, path)
    await eventually(() => {
      run.timers.move(2_000)
      return news() > place
    })
  }
  run.timers.move(20_000)
  await run.end()
  expect(news()).toBe(2)
})

test('our own saves are no news', async () => {
  const { run, screen } = await opened()
  for (let count = 0; count < 5; count++) {
    retitle(screen, `Saved ${count}`)
    screen.ask({ type: 'save' })
    await screen.next('saved')
    run.timers.move(4_000)
  }
  await run.end()
  expect(screen.of('file-changed').filter(({ message }) => message !== null)).toEqual([])
})

test('removed, or no show any more: told; half written: waited for', async () => {
  const { run, path, screen } = await opened()
  rmSync(path)
  await told(run, screen, /no longer where it was/)
  writeFileSync(path, glasshouseText().slice(0, 200))
  await told(run, screen, /cannot be read as a show any more/)
  expect(screen.last('show').show.title).toBe('On disk')
})

test('read again: the disk’s version plays on, what was not saved here is a recovery', async () => {
  const { run, path, screen } = await opened()
  retitle(screen, 'Ours')
  writeFileSync(path, glasshouseText({ title: 'Theirs' }))
  await told(run, screen, /title/)
  const loads = run.got('load').length
  screen.ask({ type: 'file-changed', do: 'read-again' })
  await eventually(() => screen.last('show').show.title === 'Theirs')
  expect(screen.last('show')).toMatchObject({ isSaved: true, file: path, undo: null })
  await told(run, screen, null)
  expect(run.got('load')).toHaveLength(loads)
  expect(run.got('revise').at(-1)).toMatchObject({ text: expect.stringContaining('Theirs') })
  await eventually(() => screen.last('recoveries').found.length === 1)
  const [ours] = screen.last('recoveries').found
  expect(ours?.title).toBe('Ours')
  screen.ask({ type: 'recovery', id: ours?.id ?? '', do: 'open' })
  await eventually(() => screen.last('show').show.title === 'Ours')
  expect(titleIn(path)).toBe('Theirs')
})

test('read again, but it is no show: all stays', async () => {
  const { run, path, screen } = await opened()
  writeFileSync(path, '{')
  await told(run, screen, /cannot be read/)
  screen.ask({ type: 'file-changed', do: 'read-again' })
  expect((await screen.next('failed')).message).toContain(path)
  expect(screen.last('show').show.title).toBe('On disk')
})

test.each([
  ['a show', Buffer.from(glasshouseText({ title: 'Theirs' }))],
  ['no show', Buffer.of(0xff, 0xfe, 0)],
])('written over, when it is %s: ours is saved, theirs is a recovery, byte by byte', async (_, theirs) => {
  const { run, path, screen } = await opened()
  retitle(screen, 'Ours')
  writeFileSync(path, theirs)
  await told(run, screen, /changed by somebody else/)
  screen.ask({ type: 'file-changed', do: 'write-over' })
  await screen.next('saved')
  expect(titleIn(path)).toBe('Ours')
  expect(screen.last('show').isSaved).toBe(true)
  await told(run, screen, null)
  await eventually(() => screen.last('recoveries').found.length === 1)
  expect(screen.last('recoveries').found[0]?.message).toBe(
    'What somebody else had put into show.json, before it was written over here.',
  )
  const folder = join(run.folder, 'state', 'backups')
  const [aside = ''] = readdirSync(folder).filter(
    (name) => name.startsWith('aside-') && name.endsWith('.json'),
  )
  expect(readFileSync(join(folder, aside)).equals(theirs)).toBe(true)
})

test('other devices do not decide over files', async () => {
  const { run } = await opened()
  const tablet = run.screen('remote')
  tablet.ask({ type: 'file-changed', do: 'write-over' })
  tablet.ask({ type: 'recovery', id: 'x', do: 'drop' })
  expect(tablet.of('refused')).toHaveLength(2)
})

test('where two shows differ is said in a line', () => {
  const ours = validShow(glasshouse())
  const [tide] = ours.songs
  if (!tide) throw new Error('there is a song')
  const songs = [
    { ...tide, tempo: 61 },
    { ...tide, id: 'dew', title: 'Dew point' },
  ]
  expect(differenceWords(ours, ours)).toBe('')
  expect(differenceWords(ours, { ...ours, title: 'x', songs })).toBe(
    'the title, the song Tide table, a new song, Dew point',
  )
  expect(differenceWords({ ...ours, songs }, ours)).toBe(
    'the song Tide table, the song Dew point, which is gone',
  )
  const many = Array.from({ length: 9 }, (_, count) => ({ ...tide, id: `s${count}`, title: `S${count}` }))
  expect(differenceWords(ours, { ...ours, songs: [tide, ...many] })).toMatch(/S4, 4 more$/)
})
