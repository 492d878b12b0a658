import { expect, test } from 'vitest'
import { DEMO_SHOW } from '../../../support/demo.ts'
import { HeldScreen, HostRun } from '../../../support/host-run.ts'

const figures = (at: number) => ({
  type: 'figures' as const,
  at,
  latency: { count: 0, p50: 0, p95: 0, p99: 0, max: 0 },
  latencyBins: [],
  lateness: { count: 0, p50: 0, p95: 0, p99: 0, max: 0 },
  counts: {},
})

const guards = (at: number) => ({
  type: 'guards' as const,
  at,
  flash: {
    action: 'warn' as const,
    lastSecond: 0,
    perSecondMax: 4,
    bandSeconds: 0,
    under60Seconds: 0,
    litShare: 0,
    litShareMax: 0.5,
    lamps: [],
    folded: 0,
    tied: 0,
    glowed: 0,
  },
  supply: { action: 'refuse' as const, refused: 0, stolen: 0, exceeded: 0, heldDown: 0, supplies: [] },
})

async function demo(): Promise<HostRun> {
  const run = new HostRun()
  expect(await run.host.openDemo()).toBeUndefined()
  run.play()
  return run
}

test('a window is told nothing before it enters; a screen that came through a door is told at once', async () => {
  const run = await demo()
  const window = run.screen('browser')
  expect(window.types()[0]).toBe('welcome')
  expect(window.last('welcome')).toMatchObject({ key: 'key of browser', place: 'browser', mayFiles: true })

  const quiet = new HostRun()
  const waiting = new HeldScreen()
  quiet.host.attach(waiting, { place: 'window', key: '' })
  waiting.ask({ type: 'open-demo' })
  waiting.raw('nonsense')
  await quiet.host.openDemo()
  expect(waiting.told).toEqual([])
  waiting.ask({ type: 'enter' })
  expect(waiting.types()).toEqual(['welcome', 'show', 'file-changed', 'recent', 'recoveries'])
})

test('a newcomer is told how things stand, in order, and what it may know', async () => {
  const run = await demo()
  const port = (id: string) => ({
    id,
    kind: 'midi-in' as const,
    name: 'x',
    state: 'open' as const,
    message: 'open',
  })
  run.says({ type: 'port', port: port('keys') })
  run.says({ type: 'port', port: port('nobody') })
  run.says({ type: 'lamps', at: 1, lamps: [] })
  run.says({ type: 'lamps', at: 2, lamps: [] })
  run.says({ type: 'players', at: 2, players: [] })
  run.says(figures(3))
  run.says(guards(3))
  run.says(guards(4))
  run.says({ type: 'song', song: 'tide', position: 1 })
  run.says({ type: 'dark' })
  for (let count = 0; count < 60; count++) {
    const diagnostic = { level: 'info' as const, source: 's', code: 'c', message: String(count) }
    run.says({ type: 'diagnostic', at: count, diagnostic })
  }
  const door = { addresses: ['http://10.0.0.2:4000'], code: '123456', screens: 1, refused: 0 }
  run.host.setRemote(door)

  const browser = run.screen('browser')
  expect(browser.types().filter((type) => type !== 'diagnostic')).toEqual([
    'welcome',
    'show',
    'file-changed',
    'hello',
    'loaded',
    'song',
    'port',
    'lamps',
    'players',
    'figures',
    'guards',
    'recent',
    'recoveries',
    'remote',
  ])
  expect(browser.last('lamps').at).toBe(2)
  expect(browser.last('guards').at).toBe(4)
  expect(browser.last('port').port.id).toBe('keys')
  expect(browser.of('diagnostic').map(({ at }) => at)).toEqual(
    Array.from({ length: 50 }, (_, index) => index + 10),
  )
  expect(browser.last('remote')).toMatchObject(door)
  expect(browser.last('show')).toMatchObject({ isDemo: true, rig: 'virtual', file: null, isSaved: true })

  const remote = run.screen('remote')
  expect(remote.types()).not.toContain('remote')
  expect(remote.types()).not.toContain('recent')
  expect(remote.last('welcome')).toMatchObject({ place: 'remote', mayFiles: false })
})

test('what the engine says goes to all; what they ask goes to the engine', async () => {
  const run = await demo()
  const one = run.screen()
  const two = run.screen('remote')
  two.ask({ type: 'dark-all' })
  one.ask({ type: 'go', to: 'next' })
  one.ask({ type: 'find-lamp', lamp: 'fern' })
  expect(run.engine.got.slice(-3)).toEqual([
    { v: 1, type: 'dark-all' },
    { v: 1, type: 'go', to: 'next' },
    { v: 1, type: 'find-lamp', lamp: 'fern' },
  ])
  run.says({ type: 'dark' })
  expect([one.of('dark').length, two.of('dark').length]).toEqual([1, 1])
  two.leave()
  run.says({ type: 'dark' })
  expect([one.of('dark').length, two.of('dark').length]).toEqual([2, 1])
})

test('a new engine means that what the one before it said holds no longer', async () => {
  const run = await demo()
  run.says({ type: 'lamps', at: 1, lamps: [] })
  run.engine.exit()
  run.says({ type: 'hello', pid: 7 })
  const screen = run.screen()
  expect(screen.types()).not.toContain('lamps')
  expect(screen.types()).not.toContain('loaded')
  expect(screen.last('hello').pid).toBe(7)
})

test('before any show there is no engine, and asks of one are answered so', () => {
  const run = new HostRun()
  const screen = run.screen()
  screen.ask({ type: 'list-ports' })
  screen.ask({ type: 'ask-checks' })
  screen.ask({ type: 'undo' })
  screen.ask({ type: 'edit', base: 0, label: 'x', changes: [{ do: 'remove', path: ['title'] }] })
  expect(screen.of('failed').map(({ what, message }) => `${what}: ${message}`)).toEqual([
    'list-ports: no show is open yet',
    'checks: no show is open',
  ])
  expect(screen.last('edit-refused').faults).toEqual([{ path: '$', message: 'no show is open' }])
  expect(run.engines).toEqual([])
})

test('other devices may not touch files; only the desktop may put the machine to sleep or end', async () => {
  const run = await demo()
  const [window, browser, remote] = [run.screen(), run.screen('browser'), run.screen('remote')]
  remote.ask({ type: 'open-file', path: DEMO_SHOW })
  remote.ask({ type: 'open-text', name: 'x', text: '{}' })
  remote.ask({ type: 'save', path: '/tmp/never' })
  expect(remote.of('refused')).toHaveLength(3)
  for (const type of ['sleep', 'awake', 'quit'] as const) {
    remote.ask({ type })
    browser.ask({ type })
  }
  expect(run.quits).toBe(0)
  expect(run.got('sleep')).toEqual([])
  expect(run.host.counts.refused).toBe(9)
  window.ask({ type: 'sleep' })
  window.ask({ type: 'awake' })
  window.ask({ type: 'quit' })
  expect(run.engine.got.slice(-2).map(({ type }) => type)).toEqual(['sleep', 'awake'])
  expect(run.quits).toBe(1)
  expect(run.host.counts.refused).toBe(9)
})

test('an edit is played and told to all; one that is refused is told to who asked', async () => {
  const run = await demo()
  const [one, two] = [run.screen(), run.screen('remote')]
  const { revision } = one.last('show')
  one.ask({
    type: 'edit',
    base: revision,
    label: 'title',
    changes: [{ do: 'set', path: ['title'], value: 'Other' }],
  })
  expect(two.last('show')).toMatchObject({
    revision: revision + 1,
    undo: 'title',
    isSaved: false,
    show: { title: 'Other' },
  })
  expect(run.got('revise')).toHaveLength(1)
  two.ask({ type: 'edit', base: revision, label: 'late', changes: [{ do: 'remove', path: ['title'] }] })
  expect(two.last('edit-refused').label).toBe('late')
  two.ask({ type: 'edit', base: revision + 1, label: 'bad', changes: [{ do: 'remove', path: ['title'] }] })
  expect(two.last('edit-refused').faults[0]?.path).toBe('$.title')
  expect(one.of('edit-refused')).toEqual([])
  expect(run.got('revise')).toHaveLength(1)
  two.ask({ type: 'undo' })
  expect(one.last('show')).toMatchObject({ undo: null, redo: 'title', isSaved: true })
  one.ask({ type: 'redo' })
  expect(two.last('show').show.title).toBe('Other')
  expect(run.got('revise')).toHaveLength(3)
})

test('monitor goes to those who want it, and the engine is asked for it while anybody does', async () => {
  const run = await demo()
  const [one, two] = [run.screen(), run.screen('remote')]
  const events = () => run.says({ type: 'monitor', at: 1, events: [], left: 0 })
  one.ask({ type: 'watch', monitor: true })
  two.ask({ type: 'watch', monitor: true })
  one.ask({ type: 'watch', monitor: false })
  events()
  expect([one.of('monitor').length, two.of('monitor').length]).toEqual([0, 1])
  expect(run.got('watch')).toEqual([{ v: 1, type: 'watch', monitor: true }])
  run.engine.exit()
  run.play()
  expect(run.got('watch')).toEqual([{ v: 1, type: 'watch', monitor: true }])
  two.leave()
  expect(run.got('watch').at(-1)).toEqual({ v: 1, type: 'watch', monitor: false })
})

test('learning ends when the last who learns has enough, or is gone', async () => {
  const run = await demo()
  const [one, two] = [run.screen(), run.screen('remote')]
  one.ask({ type: 'learn' })
  two.ask({ type: 'learn' })
  one.ask({ type: 'learn-end' })
  one.ask({ type: 'learn-end' })
  expect(run.got('learn-end')).toEqual([])
  two.leave()
  expect(run.got('learn-end')).toHaveLength(1)
})

test('what is not understood is told, and harms nothing', async () => {
  const run = await demo()
  const screen = run.screen()
  screen.raw(null)
  screen.raw({ v: 1, type: 'explode' })
  let deep: unknown = 0
  for (let depth = 0; depth < 100_000; depth++) deep = [deep]
  screen.raw({
    v: 1,
    type: 'edit',
    base: 1,
    label: 'x',
    changes: [{ do: 'set', path: ['title'], value: deep }],
  })
  expect(screen.of('not-understood')).toHaveLength(3)
  screen.ask({ type: 'dark-all' })
  expect(run.got('dark-all')).toHaveLength(1)
})

test('tuning and checks are answered to who asked, for the show as it stands', async () => {
  const run = await demo()
  const [one, two] = [run.screen(), run.screen('remote')]
  const { show, revision } = one.last('show')
  const [song] = show.songs
  const [part] = song?.parts ?? []
  two.ask({ type: 'ask-tuning', song: song?.id ?? '', part: part?.id ?? '' })
  expect(two.last('tuning')).toMatchObject({ revision, song: song?.id, part: part?.id })
  expect(two.last('tuning').lamps.map(({ lamp }) => lamp)).toEqual(part?.lamps)
  two.ask({ type: 'ask-tuning', song: 'none', part: 'none' })
  expect(two.last('failed').what).toBe('tuning')
  two.ask({ type: 'ask-checks' })
  const { findings } = two.last('checks')
  expect(findings.at(-1)?.where).toBe('every show')
  expect(findings.some(({ path }) => path !== undefined)).toBe(true)
  expect(one.of('tuning')).toEqual([])
  expect(one.of('checks')).toEqual([])
})

test('real lamps are not lit before the cautions are read, on any screen', async () => {
  const run = await demo()
  const [one, two] = [run.screen(), run.screen('remote')]
  expect(one.last('welcome')).toMatchObject({ areCautionsRead: false })
  one.ask({ type: 'rig', rig: 'real' })
  expect(one.last('refused').message).toContain('cautions')
  expect(one.last('show').rig).toBe('virtual')
  two.ask({ type: 'cautions-read' })
  expect(one.last('welcome').areCautionsRead).toBe(true)
  const song = one.last('show').show.songs[1]?.id ?? ''
  run.says({ type: 'song', song, position: 2 })
  one.ask({ type: 'rig', rig: 'real' })
  expect(two.last('show')).toMatchObject({ rig: 'real', isDemo: false })
  const load = run.got('load').at(-1)
  expect(load).toMatchObject({ rig: 'real', song, position: 2 })
  expect(load).not.toHaveProperty('take')
  one.ask({ type: 'rig', rig: 'virtual' })
  expect(one.last('show')).toMatchObject({ rig: 'virtual', isDemo: true })
  expect(run.got('load').at(-1)).toHaveProperty('take')
})

test('the demo comes with its take, for lamps in memory', async () => {
  const run = await demo()
  const load = run.got('load').at(-1)
  expect(load).toMatchObject({ type: 'load', rig: 'virtual' })
  const take = load?.type === 'load' ? Buffer.from(load.take ?? '', 'base64') : Buffer.of()
  expect(take.subarray(0, 4).toString()).toBe('MThd')
})
