import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { lockRefusal } from '../../../../app/engine/host/gig-lock.ts'
import type { ToHost } from '../../../../src/contract/to-host.ts'
import { toHost } from '../../../../src/contract/to-host.ts'
import { eventually } from '../../../support/eventually.ts'
import type { HeldScreen } from '../../../support/host-run.ts'
import { HostRun, retitle } from '../../../support/host-run.ts'
import { glasshouse, glasshouseText } from '../../../support/shows.ts'

const TWO_SONGS = (title: string): string => {
  const { songs } = glasshouse()
  const [tide] = Array.isArray(songs) ? songs : []
  const dew = { ...(tide as object), id: 'dew', title: 'Dew point' }
  return glasshouseText({ title, songs: [tide ?? null, dew], setList: ['tide', 'dew', 'tide'] })
}

async function opened() {
  const run = new HostRun()
  const path = join(run.folder, 'show.json')
  writeFileSync(path, TWO_SONGS('Saved'))
  await run.host.begin({ show: path })
  run.play()
  return { run, path, screen: run.screen('browser') }
}

/** The next start after a crash: what was begun with, and what the engine was asked to load. */
async function again(run: HostRun, show?: string, orLast = false) {
  const next = run.crash()
  const trouble = await next.host.begin({ show, orLast })
  const screen = next.screen('browser')
  return {
    next,
    trouble,
    screen,
    load: next.engines.length > 0 ? (next.play(), next.got('load')[0]) : undefined,
  }
}

function lock(screen: HeldScreen, locked: boolean): void {
  screen.ask({ type: 'lock', locked })
}

function written(run: HostRun): string {
  const path = join(run.folder, 'state', 'host.json')
  return existsSync(path) ? readFileSync(path, 'utf8') : ''
}

test('while it is on, nothing that edits, opens, learns or changes the rig is done; what plays and darkens is', async () => {
  const { run, screen } = await opened()
  lock(screen, true)
  expect(screen.last('show').isLocked).toBe(true)
  const before = run.engine.got.length
  const { revision } = screen.last('show')
  const answers = {
    title: 'x',
    players: [{ kind: 'keys' as const, port: '', channels: [] }],
    lamps: 1,
    wiring: { kind: 'virtual' as const },
    supply: { volts: 12, maxAmps: 5, watts: 10 },
  }
  screen.ask({ type: 'undo' })
  screen.ask({ type: 'redo' })
  screen.ask({ type: 'new-show', answers })
  screen.ask({ type: 'open-demo' })
  screen.ask({ type: 'open-file', path: '/shows/other.json' })
  screen.ask({ type: 'open-text', name: 'x', text: glasshouseText() })
  screen.ask({ type: 'recovery', id: 'x', do: 'open' })
  screen.ask({ type: 'file-changed', do: 'read-again' })
  screen.ask({ type: 'rig', rig: 'virtual' })
  screen.ask({ type: 'learn' })
  screen.ask({ type: 'find-lamp', lamp: 'fern' })
  expect(screen.of('refused')).toHaveLength(11)
  expect(screen.last('refused').message).toMatch(/^The gig lock is on: only playing, changing songs and Dark/)
  // A form that sent an edit hears that it was not done.
  retitle(screen, 'Edited')
  expect(screen.last('edit-refused')).toMatchObject({
    label: 'title',
    faults: [{ path: '$', message: expect.stringContaining('gig lock') }],
  })
  expect(screen.last('show')).toMatchObject({ revision, show: { title: 'Saved' } })
  expect(run.engine.got.slice(before)).toEqual([])

  screen.ask({ type: 'song', song: 'dew' })
  screen.ask({ type: 'go', to: 'next' })
  screen.ask({ type: 'variant' })
  screen.ask({ type: 'stay' })
  screen.ask({ type: 'dark-all' })
  screen.ask({ type: 'listen-again', port: 'keys' })
  screen.ask({ type: 'choose-port', port: 'keys', place: 0 })
  screen.ask({ type: 'list-ports' })
  screen.ask({ type: 'watch', monitor: true })
  expect(run.engine.got.slice(before).map(({ type }) => type)).toEqual([
    'song',
    'go',
    'variant',
    'stay',
    'dark-all',
    'listen-again',
    'choose-port',
    'list-ports',
    'watch',
  ])
  screen.ask({ type: 'ask-checks' })
  expect(screen.of('checks')).toHaveLength(1)
  screen.ask({ type: 'ask-sheet' })
  expect(screen.last('sheet').html).toContain('Tide table')
})

test('each ask there is was thought of', () => {
  const types = toHost.options.map(({ shape }) => [...shape.type.values][0])
  const others = types.filter((type) => type !== 'enter')
  const held = others.filter(
    (type) =>
      lockRefusal(
        { v: 1, type, locked: false, do: 'read-again' } as unknown as ToHost & { type: 'lock' },
        'remote',
      ) !== undefined,
  )
  expect(held.sort()).toEqual(
    [
      'edit',
      'undo',
      'redo',
      'new-show',
      'open-demo',
      'open-file',
      'open-text',
      'file-changed',
      'recovery',
      'lock',
      'rig',
      'learn',
      'find-lamp',
    ].sort(),
  )
})

test('work from before can be saved while it is on', async () => {
  const { path, screen } = await opened()
  retitle(screen, 'Before the gig')
  lock(screen, true)
  screen.ask({ type: 'save' })
  await screen.next('saved')
  expect(readFileSync(path, 'utf8')).toContain('Before the gig')
})

test('any screen locks; only those on the machine that plays unlock', async () => {
  const { run, screen } = await opened()
  const tablet = run.screen('remote')
  lock(tablet, true)
  expect(screen.last('show').isLocked).toBe(true)
  lock(tablet, false)
  expect(tablet.last('refused').message).toContain('machine that plays')
  expect(screen.last('show').isLocked).toBe(true)
  lock(screen, false)
  expect(tablet.last('show').isLocked).toBe(false)
  retitle(tablet, 'Edited again')
  expect(screen.last('show').show.title).toBe('Edited again')
})

test('locking ends what would light or listen', async () => {
  const { run, screen } = await opened()
  screen.ask({ type: 'learn' })
  screen.ask({ type: 'find-lamp', lamp: 'fern' })
  lock(screen, true)
  expect(run.engine.got.slice(-2)).toEqual([
    { v: 1, type: 'learn-end' },
    { v: 1, type: 'find-lamp', lamp: null },
  ])
  // A new engine is not asked to listen again.
  run.engine.exit()
  run.play()
  expect(run.got('learn')).toEqual([])
})

test('after a crash the same show stands at the same song and place, locked, whatever is named; then it can be unlocked', async () => {
  const { run, path, screen } = await opened()
  lock(screen, true)
  run.says({ type: 'song', song: 'tide', position: 2 })
  await eventually(() => /"gig": \{[^}]*"position": 2/.test(written(run)))
  const other = join(run.folder, 'other.json')
  writeFileSync(other, glasshouseText({ title: 'Other' }))
  const first = await again(run, path)
  expect(first.trouble).toBeUndefined()
  expect(first.screen.last('show')).toMatchObject({ isLocked: true, file: path, isSaved: true })
  expect(first.load).toMatchObject({ song: 'tide', position: 2 })
  const second = await again(first.next, other)
  expect(second.trouble).toContain('holds')
  expect(second.screen.last('show')).toMatchObject({ isLocked: true, file: path })
  expect(second.load).toMatchObject({ song: 'tide', position: 2 })
  second.screen.ask({ type: 'open-file', path: other })
  expect(second.screen.last('refused').message).toContain('gig lock')
  lock(second.screen, false)
  await eventually(() => written(run).includes('"gig": null'))
  const third = await again(second.next, other)
  expect(third.screen.last('show')).toMatchObject({ isLocked: false, file: other })
})

test('an end that is asked for leaves it on', async () => {
  const { run, path, screen } = await opened()
  lock(screen, true)
  await run.end()
  const next = new HostRun(run.folder)
  await next.host.begin({ orLast: true })
  expect(next.screen().last('show')).toMatchObject({ isLocked: true, file: path })
})

test('locked with unsaved work: a crash costs nothing of it', async () => {
  const { run, path, screen } = await opened()
  retitle(screen, 'Unsaved')
  lock(screen, true)
  await run.kept(screen)
  await eventually(() => written(run).includes('"gig": {'))
  const next = await again(run)
  expect(next.screen.last('show')).toMatchObject({
    isLocked: true,
    file: path,
    isSaved: false,
    show: { title: 'Unsaved' },
  })
  next.screen.ask({ type: 'save' })
  await next.screen.next('saved')
  expect(readFileSync(path, 'utf8')).toContain('"Unsaved"')
})

test('locked with a show that never had a file, or the demo: it is there again', async () => {
  const run = new HostRun()
  await run.host.begin()
  run.play()
  const screen = run.screen('browser')
  screen.ask({ type: 'open-text', name: 'dropped.json', text: TWO_SONGS('Dropped') })
  await screen.next('show')
  run.play()
  lock(screen, true)
  await run.kept(screen)
  await eventually(() => written(run).includes('"gig": {'))
  const next = await again(run)
  expect(next.screen.last('show')).toMatchObject({ isLocked: true, file: null, show: { title: 'Dropped' } })
  lock(next.screen, false)
  next.screen.ask({ type: 'open-demo' })
  await next.screen.next('show')
  next.next.play()
  lock(next.screen, true)
  await eventually(() => /"gig": \{\s*"file": null,\s*"isDemo": true/.test(written(run)))
  const last = await again(next.next)
  expect(last.screen.last('show')).toMatchObject({ isLocked: true, isDemo: true })
})

test('locked, and the file is broken or gone: the show goes on as it was when it was last good', async () => {
  const { run, path, screen } = await opened()
  lock(screen, true)
  await eventually(() => written(run).includes('"gig": {'))
  const backups = join(run.folder, 'state', 'backups')
  await eventually(
    () => existsSync(backups) && readdirSync(backups).some((one) => one.endsWith('latest.json')),
  )
  writeFileSync(path, '\0'.repeat(300))
  const next = await again(run)
  expect(next.screen.last('show')).toMatchObject({ isLocked: true, file: path, show: { title: 'Saved' } })
  expect(
    next.screen
      .of('diagnostic')
      .map(({ diagnostic }) => diagnostic.message)
      .join(),
  ).toContain('as it was when it was last good')
  expect(readFileSync(path, 'utf8')).toBe('\0'.repeat(300))
  rmSync(path)
  rmSync(backups, { recursive: true })
  rmSync(join(run.folder, 'state', 'unsaved'), { recursive: true })
  // Nothing is left of it: the lock goes, and says so.
  const bare = new HostRun(run.folder)
  await bare.host.begin()
  const empty = bare.screen('browser')
  expect(empty.last('show')).toMatchObject({ isLocked: false, isDemo: true })
  expect(empty.of('diagnostic').at(-1)?.diagnostic.message).toContain('the lock is off')
})

test('a second process beside the one that plays the gig is not locked', async () => {
  const { run, screen } = await opened()
  lock(screen, true)
  await eventually(() => written(run).includes('"gig": {'))
  const beside = new HostRun(run.folder)
  await beside.host.begin()
  const other = beside.screen('browser')
  expect(other.last('show')).toMatchObject({ isLocked: false, isDemo: true })
  other.ask({ type: 'cautions-read' })
  await eventually(() => written(run).includes('"areCautionsRead": true'))
  expect(written(run)).toContain('"gig": {')
})

test('not locked, a crash comes back to the song of the same show; an end that was asked for does not', async () => {
  const { run, path } = await opened()
  run.says({ type: 'song', song: 'dew', position: 1 })
  await eventually(() => /"open": \{[^}]*"position": 1/.test(written(run)))
  const next = await again(run, undefined, true)
  expect(next.screen.last('show')).toMatchObject({ file: path, isLocked: false })
  expect(next.load).toMatchObject({ song: 'dew', position: 1 })
  next.next.says({ type: 'song', song: 'dew', position: 1 })
  await next.next.end()
  const last = new HostRun(run.folder)
  await last.host.begin({ orLast: true })
  last.play()
  expect(last.got('load')[0]).not.toHaveProperty('song')
})
