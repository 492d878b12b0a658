import { copyFileSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { eventually } from '../../../support/eventually.ts'
import type { HeldScreen } from '../../../support/host-run.ts'
import { HostRun, retitle } from '../../../support/host-run.ts'
import { glasshouseText } from '../../../support/shows.ts'

async function begun(run: HostRun, show?: string): Promise<HeldScreen> {
  await run.host.begin({ show })
  run.play()
  return run.screen()
}

/** A show on the disk, opened, with work that is kept and not saved. */
async function unsaved() {
  const run = new HostRun()
  const path = join(run.folder, 'show.json')
  writeFileSync(path, glasshouseText({ title: 'Saved' }))
  const screen = await begun(run, path)
  retitle(screen, 'Unsaved')
  await run.kept(screen)
  return { run, path, screen }
}

const found = (screen: HeldScreen) =>
  screen.last('recoveries').found.map(({ title, file, message }) => ({ title, file, message }))

/** Opens what is offered under that title, and waits until it is done. */
async function recover(screen: HeldScreen, title = 'Unsaved'): Promise<void> {
  screen.ask({ type: 'recovery', id: idOf(screen, title), do: 'open' })
  await eventually(() => screen.last('show').show.title === title)
}

function idOf(screen: HeldScreen, title: string): string {
  const { found: all } = screen.last('recoveries')
  const one = all.find((each) => each.title === title)
  if (!one) throw new Error(`not offered: ${title}, only ${all.map((each) => each.title).join(', ')}`)
  return one.id
}

test('after a crash the show is as in its file, and what was not saved is offered; opened, it is unsaved work of that file', async () => {
  const { run, path } = await unsaved()
  const next = run.crash()
  const screen = await begun(next, path)
  expect(screen.last('show')).toMatchObject({ show: { title: 'Saved' }, isSaved: true })
  const message = 'Changes to show.json that were not saved.'
  expect(found(screen)).toEqual([{ title: 'Unsaved', file: path, message }])
  expect(Date.parse(screen.last('recoveries').found[0]?.at ?? '')).toBeGreaterThan(Date.now() - 60_000)
  await recover(screen)
  expect(screen.last('show')).toMatchObject({ show: { title: 'Unsaved' }, isSaved: false, file: path })
  await eventually(() => found(screen).length === 0)
  expect(readFileSync(path, 'utf8')).toContain('"Saved"')
  // The band goes on where it was.
  expect(next.got('load')).toHaveLength(1)
  expect(next.got('revise')).toHaveLength(1)
  screen.ask({ type: 'save' })
  await screen.next('saved')
  expect(readFileSync(path, 'utf8')).toContain('"Unsaved"')
  const last = await begun(next.crash(), path)
  expect(found(last)).toEqual([])
})

test('work that was recovered and not saved outlives the next crash as well', async () => {
  const { run, path } = await unsaved()
  const next = run.crash()
  const screen = await begun(next, path)
  await recover(screen)
  await eventually(() => found(screen).length === 0)
  const last = await begun(next.crash(), path)
  expect(found(last)).toMatchObject([{ title: 'Unsaved' }])
})

test('what is thrown away is not offered again, and can be had by hand', async () => {
  const { run, path } = await unsaved()
  const next = run.crash()
  const screen = await begun(next, path)
  screen.ask({ type: 'recovery', id: idOf(screen, 'Unsaved'), do: 'drop' })
  await eventually(() => found(screen).length === 0)
  const [dropped] = readdirSync(join(run.folder, 'state', 'dropped'))
  expect(readFileSync(join(run.folder, 'state', 'dropped', dropped ?? ''), 'utf8')).toContain('Unsaved')
  expect(found(await begun(next.crash(), path))).toEqual([])
  screen.ask({ type: 'recovery', id: '../host.json', do: 'drop' })
  expect((await screen.next('failed')).message).toContain('not there any more')
})

test('undone to what was saved, or saved: nothing is unsaved', async () => {
  const { run, path, screen } = await unsaved()
  screen.ask({ type: 'undo' })
  await eventually(() => readdirSync(join(run.folder, 'state', 'unsaved')).length === 1)
  expect(found(await begun(run.crash(), path))).toEqual([])
})

test('undo reaches back behind a save, and is unsaved work again', async () => {
  const { run, path, screen } = await unsaved()
  screen.ask({ type: 'save' })
  await screen.next('saved')
  screen.ask({ type: 'undo' })
  expect(screen.last('show')).toMatchObject({ isSaved: false, show: { title: 'Saved' } })
  await run.kept(screen)
  expect(found(await begun(run.crash(), path))).toMatchObject([{ title: 'Saved' }])
  screen.ask({ type: 'redo' })
  expect(screen.last('show')).toMatchObject({ isSaved: true, show: { title: 'Unsaved' } })
})

test('a show that never had a file is offered without one', async () => {
  const run = new HostRun()
  const screen = await begun(run)
  screen.ask({
    type: 'new-show',
    answers: {
      title: 'First night',
      players: [{ kind: 'keys', port: '', channels: [] }],
      lamps: 2,
      wiring: { kind: 'virtual' },
      supply: { volts: 12, maxAmps: 5, watts: 10 },
    },
  })
  await screen.next('show')
  await run.kept(screen)
  const next = await begun(run.crash())
  expect(next.last('show').isDemo).toBe(true)
  expect(found(next)).toEqual([{ title: 'First night', file: null, message: 'A show that was never saved.' }])
  await recover(next, 'First night')
  expect(next.last('show')).toMatchObject({ file: null, isSaved: false, show: { title: 'First night' } })
})

test('another show is opened over unsaved work: it is offered', async () => {
  const { run, path, screen } = await unsaved()
  screen.ask({ type: 'open-demo' })
  await screen.next('recoveries')
  expect(found(screen)).toMatchObject([{ title: 'Unsaved', file: path }])
  expect(found(run.screen('browser'))).toHaveLength(1)
  expect(run.screen('remote').of('recoveries')).toEqual([])
})

test('a file that somebody else changed since is told, and is not written over by what is recovered', async () => {
  const { run, path } = await unsaved()
  writeFileSync(path, glasshouseText({ title: 'Theirs' }))
  const screen = await begun(run.crash(), path)
  expect(found(screen)[0]?.message).toContain('changed by somebody else since')
  await recover(screen)
  await eventually(() => screen.last('file-changed').message?.includes('the title') === true)
  screen.ask({ type: 'save' })
  expect((await screen.next('failed')).message).toContain('left alone')
  expect(readFileSync(path, 'utf8')).toContain('"Theirs"')
})

test('a broken file is left alone; what was unsaved and what was last good are offered', async () => {
  const { run, path, screen } = await unsaved()
  screen.ask({ type: 'save' })
  await screen.next('saved')
  retitle(screen, 'Later')
  await run.kept(screen)
  const torn = readFileSync(path, 'utf8').slice(0, 500)
  writeFileSync(path, torn)
  const next = run.crash()
  const trouble = await next.host.begin({ show: path })
  expect(trouble).toMatch(/breaks off here[\s\S]*The demo is open in its place/)
  const other = next.screen()
  expect(other.last('show').isDemo).toBe(true)
  expect(
    other
      .of('diagnostic')
      .map(({ diagnostic }) => diagnostic.message)
      .join(),
  ).toContain('breaks off here')
  await eventually(() => other.last('recoveries').found.length === 3)
  expect(
    found(other)
      .map(({ title, message }) => `${title}: ${message}`)
      .sort(),
  ).toEqual([
    'Later: Changes that were not saved; show.json cannot be read any more.',
    'Saved: show.json as it was before it was last saved here.',
    'Unsaved: show.json as it was last opened or saved here.',
  ])
  await recover(other)
  expect(other.last('show')).toMatchObject({ file: path, isSaved: false, show: { title: 'Unsaved' } })
  other.ask({ type: 'save' })
  expect((await other.next('failed')).message).toContain('cannot be read as a show')
  other.ask({ type: 'save', path: join(run.folder, 'mended.json') })
  await other.next('saved')
  expect(readFileSync(path, 'utf8')).toBe(torn)
})

test('a file that is gone: its unsaved work is offered, and saved there anew', async () => {
  const { run, path } = await unsaved()
  rmSync(path)
  const screen = await begun(run.crash(), path)
  expect(screen.last('show').isDemo).toBe(true)
  await recover(screen)
  screen.ask({ type: 'save' })
  await screen.next('saved')
  expect(readFileSync(path, 'utf8')).toContain('"Unsaved"')
})

test('a journal with a torn end gives what was whole; one with nothing whole is set aside, a newer one left alone', async () => {
  const { run, path, screen } = await unsaved()
  const folder = join(run.folder, 'state', 'unsaved')
  const [name = ''] = readdirSync(folder).filter((one) => one.endsWith('.journal'))
  const before = readFileSync(join(folder, name))
  retitle(screen, 'Torn')
  await run.kept(screen)
  const after = readFileSync(join(folder, name))
  const next = run.crash()
  writeFileSync(join(folder, name), after.subarray(0, before.length + 10))
  writeFileSync(join(folder, 'zero.1.journal'), Buffer.alloc(4096))
  const newer = Buffer.from('{"kind":"lanthorn-journal","version":2}')
  const head = Buffer.alloc(8)
  head.writeUInt32LE(newer.length, 0)
  // zlib.crc32 of these bytes, by Python.
  head.writeUInt32LE(0xe3fa8675, 4)
  writeFileSync(join(folder, 'newer.1.journal'), Buffer.concat([head, newer]))
  const other = await begun(next, path)
  expect(found(other)).toMatchObject([{ title: 'Unsaved' }])
  const notes = other.of('diagnostic').map(({ diagnostic }) => diagnostic.message)
  expect(notes.filter((note) => note.includes('zero.1.journal'))).toEqual([
    expect.stringContaining('set aside'),
  ])
  expect(notes.filter((note) => note.includes('newer.1.journal'))).toEqual([
    expect.stringContaining('left alone'),
  ])
  expect(readdirSync(folder)).toContain('newer.1.journal')
})

test('of a great many the latest fifty are offered', async () => {
  const run = new HostRun()
  const screen = await begun(run)
  retitle(screen, 'Unsaved')
  await run.kept(screen)
  const folder = join(run.folder, 'state', 'unsaved')
  const [name = ''] = readdirSync(folder).filter((one) => one.endsWith('.journal'))
  for (let count = 0; count < 60; count++)
    copyFileSync(join(folder, name), join(folder, `x${count}.1.journal`))
  const next = await begun(run.crash())
  expect(found(next)).toHaveLength(50)
  expect(readdirSync(folder).filter((one) => one.endsWith('.journal'))).toHaveLength(50)
})

test('work that cannot be kept is told, plays on, and is kept when the disk is there again', async () => {
  const run = new HostRun()
  // A file in the place of the folder: nobody can write there, not even root.
  writeFileSync(join(run.folder, 'state'), '')
  const path = join(run.folder, 'show.json')
  writeFileSync(path, glasshouseText({ title: 'Saved' }))
  const screen = await begun(run, path)
  retitle(screen, 'Unkept')
  const word = await screen.next('kept')
  expect(word.message).toMatch(/would be lost in a crash/)
  retitle(screen, 'Still unkept')
  expect(screen.last('show').show.title).toBe('Still unkept')
  expect(run.got('revise')).toHaveLength(2)
  expect(run.screen('remote').last('kept').message).toBe(word.message)
  screen.ask({ type: 'save' })
  await screen.next('saved')
  expect(readFileSync(path, 'utf8')).toContain('"Still unkept"')
  retitle(screen, 'Again')
  rmSync(join(run.folder, 'state'))
  await eventually(() => {
    run.timers.move(5_000)
    return screen.last('kept').message === null
  })
  await run.kept(screen)
  expect(found(await begun(run.crash(), path))).toMatchObject([{ title: 'Again' }])
})

test('an end that is asked for keeps what was not saved; what two processes do is not mixed', async () => {
  const { run, path, screen } = await unsaved()
  const beside = new HostRun(run.folder)
  const other = await begun(beside, path)
  // The first one lives: its work is its own.
  expect(found(other)).toEqual([])
  retitle(other, 'Beside')
  await beside.kept(other)
  retitle(screen, 'First')
  await run.end()
  const third = await begun(new HostRun(run.folder), path)
  expect(found(third)).toMatchObject([{ title: 'First' }])
  const last = await begun(beside.crash(), path)
  expect(
    found(last)
      .map(({ title }) => title)
      .sort(),
  ).toEqual(['Beside', 'First'])
})
