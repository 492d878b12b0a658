import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { eventually } from '../../../support/eventually.ts'
import { HostRun, retitle } from '../../../support/host-run.ts'
import { glasshouseText } from '../../../support/shows.ts'

async function opened(title = 'On disk') {
  const run = new HostRun()
  const path = join(run.folder, 'show.json')
  writeFileSync(path, glasshouseText({ title }))
  const screen = run.screen()
  screen.ask({ type: 'open-file', path })
  await screen.next('show')
  run.play()
  return { run, path, screen }
}

const titleIn = (path: string): unknown =>
  (JSON.parse(readFileSync(path, 'utf8')) as { title: unknown }).title

test('a show is opened, edited, saved where it came from, and opened again', async () => {
  const { run, path, screen } = await opened()
  expect(screen.last('show')).toMatchObject({ file: path, isSaved: true, show: { title: 'On disk' } })
  retitle(screen, 'Edited')
  expect(screen.last('show').isSaved).toBe(false)
  screen.ask({ type: 'save' })
  expect(await screen.next('saved')).toMatchObject({ file: path })
  expect(screen.last('show')).toMatchObject({ isSaved: true, undo: 'title' })
  expect(titleIn(path)).toBe('Edited')
  expect(readdirSync(run.folder).filter((name) => name.includes('.part'))).toEqual([])
  screen.ask({ type: 'undo' })
  expect(screen.last('show').isSaved).toBe(false)
  screen.ask({ type: 'open-file', path })
  expect(await screen.next('show')).toMatchObject({ undo: null, isSaved: true, show: { title: 'Edited' } })
})

test('other devices learn the name of a file, not where it lies', async () => {
  const { run } = await opened()
  expect(run.screen('remote').last('show').file).toBe('show.json')
})

test('shows opened and saved are remembered, the latest first', async () => {
  const { run, path, screen } = await opened()
  const other = join(run.folder, 'other.json')
  screen.ask({ type: 'save', path: other })
  await screen.next('saved')
  expect(screen.last('recent').files).toEqual([other, path])
  expect(screen.last('show')).toMatchObject({ file: other, isSaved: true })
})

test.each([
  ['no file', 'missing.json', undefined, 'no such file'],
  ['a folder', '.', undefined, 'a folder'],
  ['no JSON', 'bad.json', '{', 'line 1'],
  ['no show', 'bad.json', '{"format": "other"}', 'not a Lanthorn show'],
  ['no UTF-8', 'bad.json', Buffer.of(0x7b, 0xff, 0x7d), 'not a UTF-8 text'],
])('%s is told with its path, and the show that was open stays', async (_, name, content, words) => {
  const { run, screen } = await opened()
  const path = join(run.folder, name)
  if (content !== undefined) writeFileSync(path, content)
  const loads = run.got('load').length
  screen.ask({ type: 'open-file', path })
  const failed = await screen.next('failed')
  expect(failed.what).toBe('open')
  expect(failed.message).toContain(path)
  expect(failed.message).toContain(words)
  expect(screen.last('show').show.title).toBe('On disk')
  expect(run.got('load')).toHaveLength(loads)
})

test('faults of a file are told with their paths and lines', async () => {
  const { run, screen } = await opened()
  screen.ask({ type: 'open-text', name: 'dropped.json', text: glasshouseText({ titel: 'x' }) })
  const { message } = await screen.next('failed')
  expect(message).toMatch(/^dropped\.json: not a valid show/)
  expect(message).toMatch(/\$\.titel \(line \d+\): unknown field "titel"/)
  screen.ask({ type: 'open-text', name: 'dropped.json', text: glasshouseText({ title: 'Dropped' }) })
  expect(await screen.next('show')).toMatchObject({ file: null, isSaved: true, show: { title: 'Dropped' } })
  screen.ask({ type: 'save' })
  expect((await screen.next('failed')).message).toContain('no file yet')
  expect(run.got('load').at(-1)).toMatchObject({ rig: 'virtual' })
})

test('a file that somebody else changed is left alone; saved elsewhere nothing is lost', async () => {
  const { run, path, screen } = await opened()
  retitle(screen, 'Ours')
  writeFileSync(path, glasshouseText({ title: 'Theirs' }))
  screen.ask({ type: 'save' })
  expect(await screen.next('failed')).toMatchObject({
    what: 'save',
    message: expect.stringContaining('changed by somebody else'),
  })
  screen.ask({ type: 'save', path })
  await screen.next('failed')
  expect(titleIn(path)).toBe('Theirs')
  expect(screen.last('show').isSaved).toBe(false)
  const other = join(run.folder, 'ours.json')
  screen.ask({ type: 'save', path: other })
  await screen.next('saved')
  expect(titleIn(other)).toBe('Ours')
})

test('a file that is gone is written anew', async () => {
  const { run, path, screen } = await opened()
  rmSync(path)
  screen.ask({ type: 'save' })
  await screen.next('saved')
  expect(existsSync(path)).toBe(true)
  expect(run.engines).toHaveLength(1)
})

test('another file is replaced only for a window, whose dialog has asked', async () => {
  const { run, screen } = await opened()
  const other = join(run.folder, 'other.json')
  writeFileSync(other, glasshouseText({ title: 'Other' }))
  const browser = run.screen('browser')
  browser.ask({ type: 'save', path: other })
  expect((await browser.next('failed')).message).toContain('already')
  expect(titleIn(other)).toBe('Other')
  screen.ask({ type: 'save', path: other })
  await screen.next('saved')
  expect(titleIn(other)).toBe('On disk')
})

test('what cannot be written is told, and leaves nothing behind', async () => {
  const { run, screen } = await opened()
  screen.ask({ type: 'save', path: join(run.folder, 'no', 'such', 'folder.json') })
  expect((await screen.next('failed')).message).toContain('no such folder')
  screen.ask({ type: 'save', path: run.folder })
  expect((await screen.next('failed')).message).toContain('no file')
  screen.ask({ type: 'save', path: '/dev/null' })
  expect((await screen.next('failed')).message).toContain('no file')
  expect(readdirSync(run.folder).sort()).toEqual(['show.json', 'state'])
})

test('a link stays a link, and permissions stay as they were', async () => {
  const { run, path, screen } = await opened()
  chmodSync(path, 0o664)
  mkdirSync(join(run.folder, 'links'))
  const link = join(run.folder, 'links', 'link.json')
  symlinkSync(path, link)
  screen.ask({ type: 'open-file', path: link })
  await screen.next('show')
  retitle(screen, 'Through the link')
  screen.ask({ type: 'save' })
  await screen.next('saved')
  expect(titleIn(path)).toBe('Through the link')
  expect(statSync(path).mode & 0o777).toBe(0o664)
  expect(readdirSync(join(run.folder, 'links'))).toEqual(['link.json'])
})

test('what is asked in one breath is done in that order', async () => {
  const { run, path, screen } = await opened()
  retitle(screen, 'First')
  screen.ask({ type: 'save' })
  retitle(screen, 'Second')
  screen.ask({ type: 'open-demo' })
  screen.ask({ type: 'open-file', path })
  await eventually(() => screen.last('show').file === path && screen.last('show').show.title === 'First')
  expect(titleIn(path)).toBe('First')
  const files = screen.of('show').map(({ file, show }) => `${file} ${show.title}`)
  expect(files.slice(-2)).toEqual([expect.stringMatching(/^null /), `${path} First`])
  expect(
    run
      .got('load')
      .map((load) => (load.type === 'load' ? load.take !== undefined : undefined))
      .slice(-2),
  ).toEqual([true, false])
})

test('a first show is made from answers, not yet saved', async () => {
  const run = new HostRun()
  const screen = run.screen('remote')
  screen.ask({
    type: 'new-show',
    answers: {
      title: 'Ours',
      players: [{ kind: 'keys', port: '', channels: [] }],
      lamps: 4,
      wiring: { kind: 'virtual' },
      supply: { volts: 12, maxAmps: 5, watts: 10 },
    },
  })
  expect(await screen.next('show')).toMatchObject({
    file: null,
    isSaved: false,
    rig: 'virtual',
    isDemo: false,
    show: {
      title: 'Ours',
      rig: { lamps: [{ name: 'Fern' }, { name: 'Moss' }, { name: 'Reed' }, { name: 'Sedge' }] },
    },
  })
  run.play()
  expect(run.got('load')).toHaveLength(1)
})

test('an own show goes to real lamps once the cautions are read', async () => {
  const { run, path, screen } = await opened()
  expect(screen.last('show').rig).toBe('virtual')
  screen.ask({ type: 'cautions-read' })
  screen.ask({ type: 'open-file', path })
  expect((await screen.next('show')).rig).toBe('real')
  screen.ask({ type: 'rig', rig: 'virtual' })
  screen.ask({ type: 'open-file', path })
  expect((await screen.next('show')).rig).toBe('virtual')
  expect(run.engines).toHaveLength(1)
})

test('to stop is to darken, then to wait until what was saved is on the disk', async () => {
  const { run, path, screen } = await opened()
  retitle(screen, 'Last')
  screen.ask({ type: 'save' })
  const stopped = run.host.stop()
  expect(run.engine.got.at(-1)).toEqual({ v: 1, type: 'stop' })
  run.says({ type: 'stopped', clean: true })
  run.engine.exit('code 0')
  expect(await stopped).toBe(true)
  expect(titleIn(path)).toBe('Last')
})
