import { expect, test } from 'vitest'
import { CHANNELS } from '../../../app/preload/channels.ts'
import { showWord, startDesktop } from '../../support/desktop.ts'
import { Preventable, settled, StandInElectron } from '../../support/stand-in-electron.ts'

const LOADED = { type: 'loaded' as const, title: 'Tide', song: 'dew', position: 0, songs: ['dew'] }

test('the window sees neither Node nor Electron, and only our page', async () => {
  const { electron } = await startDesktop()
  expect(electron.windows).toHaveLength(1)
  const { options, webContents } = electron.window
  expect(options.webPreferences).toMatchObject({
    sandbox: true,
    contextIsolation: true,
    nodeIntegration: false,
    webviewTag: false,
    preload: '/app/dist/preload.cjs',
  })
  expect(webContents.url).toBe('lanthorn://screens/index.html')
  expect(electron.log).toContain('sandbox')
  expect(webContents.openHandler?.({ url: 'https://example.org' } as never)).toEqual({ action: 'deny' })
})

test.each(['will-navigate', 'will-redirect'])('%s leads nowhere but to our own page', async (event) => {
  const { electron } = await startDesktop()
  const away = Object.assign(new Preventable(), { url: 'https://example.org/' })
  electron.window.webContents.emit(event, away)
  expect(away.isPrevented).toBe(true)
  const near = Object.assign(new Preventable(), { url: 'lanthorn://screens.example.org/index.html' })
  electron.window.webContents.emit(event, near)
  expect(near.isPrevented).toBe(true)
  const own = Object.assign(new Preventable(), { url: 'lanthorn://screens/index.html#sheet' })
  electron.window.webContents.emit(event, own)
  expect(own.isPrevented).toBe(false)
})

test('no page in a page', async () => {
  const { electron } = await startDesktop()
  const event = new Preventable()
  electron.window.webContents.emit('will-attach-webview', event)
  expect(event.isPrevented).toBe(true)
})

test('nothing is granted but copying text, and only to our page', async () => {
  const { electron } = await startDesktop()
  const granted: boolean[] = []
  const ask = (url: string, permission: string): void =>
    electron.permission?.(
      { getURL: () => url } as never,
      permission as never,
      (yes) => granted.push(yes),
      {} as never,
    )
  ask('lanthorn://screens/index.html', 'clipboard-sanitized-write')
  ask('lanthorn://screens/index.html', 'midi')
  ask('lanthorn://screens/index.html', 'openExternal')
  ask('https://example.org/', 'clipboard-sanitized-write')
  expect(granted).toEqual([true, false, false, false])
  const check = (origin: string, permission: string): boolean | undefined =>
    electron.permissionCheck?.(null, permission as never, origin, {} as never)
  expect(check('lanthorn://screens/', 'clipboard-sanitized-write')).toBe(true)
  expect(check('lanthorn://screens/', 'serial')).toBe(false)
  expect(check('https://example.org/', 'clipboard-sanitized-write')).toBe(false)
})

test.each([
  ['lanthorn://screens/assets/index.js', false],
  ['https://example.org/x.js', true],
  ['http://127.0.0.1:4117/', true],
  ['file:///etc/passwd', true],
  ['ws://example.org/', true],
])('a request for %s: cancelled %s', async (url, cancel) => {
  const { electron } = await startDesktop()
  const verdicts: unknown[] = []
  electron.request?.({ url }, (verdict) => verdicts.push(verdict))
  expect(verdicts).toEqual([{ cancel }])
})

test('a second launch hands its files over and opens nothing', async () => {
  const electron = new StandInElectron()
  electron.isFirst = false
  const { isFirst } = await startDesktop({
    electron,
    words: ['--flag', 'tide.json', '/shows/ebb.json', 'notes.txt'],
  })
  expect(isFirst).toBe(false)
  expect(electron.lockData).toEqual({ shows: ['/home/player/shows/tide.json', '/shows/ebb.json'] })
  expect(electron.log).toEqual(['lock', 'quit'])
  expect(electron.windows).toEqual([])
  expect(electron.children).toEqual([])
})

test('the first one opens what a second launch hands over, and comes to the front', async () => {
  const { electron } = await startDesktop()
  electron.window.isSmall = true
  electron.appEvents.emit('second-instance', new Preventable(), [], '/', { shows: ['/shows/ebb.json'] })
  expect(electron.child.got.at(-1)?.message).toMatchObject({ type: 'open-file', path: '/shows/ebb.json' })
  expect(electron.window).toMatchObject({ isSmall: false, focused: 1 })
})

test.each([[null], ['x'], [{ shows: 'x' }], [{ shows: [7] }], [{ shows: [''] }], [{}]])(
  'what a second launch hands over is not trusted: %j',
  async (data) => {
    const { electron } = await startDesktop()
    const before = electron.child.got.length
    electron.appEvents.emit('second-instance', new Preventable(), [], '/', data)
    expect(electron.child.got).toHaveLength(before)
  },
)

test('a show on the command line is what the host begins with; none: what it remembers', async () => {
  const named = await startDesktop({ words: ['tide.json'] })
  expect(named.electron.child.got.map(({ message }) => message)).toMatchObject([
    { type: 'enter' },
    { type: 'begin', path: '/home/player/shows/tide.json' },
  ])
  const again = await startDesktop()
  again.say({ type: 'recent', files: ['/shows/ebb.json', '/shows/tide.json'] })
  expect(again.electron.child.got.map(({ message }) => message)).toEqual([
    { v: 1, type: 'enter' },
    { v: 1, type: 'begin' },
  ])
})

test('a file that the host did not open is not what the next host begins with', async () => {
  const { electron, say, waits } = await startDesktop({ words: ['tide.json'] })
  say(showWord())
  electron.appEvents.emit('open-file', new Preventable(), '/shows/broken.json')
  expect(electron.child.got.at(-1)?.message).toMatchObject({ type: 'open-file', path: '/shows/broken.json' })
  say({ type: 'failed', what: 'open', message: 'not a valid show' })
  electron.child.emit('exit', 139)
  waits[0]?.call()
  expect(electron.child.got[1]?.message).toMatchObject({
    type: 'begin',
    path: '/home/player/shows/tide.json',
  })
})

test('a file that fails while a show is open changes nothing', async () => {
  const { electron, say } = await startDesktop({ words: ['tide.json'] })
  say(showWord())
  const before = electron.child.got.length
  say({ type: 'failed', what: 'open', message: 'no such file' })
  expect(electron.child.got).toHaveLength(before)
})

test('the host runs in a utility process, and the window gets one end of a channel to it', async () => {
  const { electron } = await startDesktop()
  expect(electron.child.path).toBe('/app/dist/host.js')
  expect(electron.child.options).toMatchObject({ env: { LANTHORN_STATE: '/home/player/userData' } })
  electron.fromWindow(CHANNELS.connect)
  expect(electron.window.webContents.sent).toEqual([
    { channel: CHANNELS.port, payload: null, ports: [{ end: 1 }] },
  ])
  expect(electron.child.got.at(-1)).toMatchObject({ message: { type: 'attach' }, ports: [{ end: 2 }] })
})

test.each([
  ['another window', { id: 99 }],
  ['a page from elsewhere', { url: 'https://example.org/' }],
  ['a frame in our page', { parent: {} }],
])('%s is not listened to', async (_, from) => {
  const { electron } = await startDesktop()
  electron.openPaths = ['/shows/ebb.json']
  const before = electron.child.got.length
  for (const channel of Object.values(CHANNELS)) electron.fromWindow(channel, '/shows/ebb.json', from)
  await settled()
  expect(electron.child.got).toHaveLength(before)
  expect(electron.window.webContents.sent).toEqual([])
})

test('dialogs: what is chosen is opened or saved, what is cancelled is not', async () => {
  const { electron } = await startDesktop()
  electron.openPaths = ['/shows/ebb.json']
  electron.savePath = '/shows/flood.json'
  electron.fromWindow(CHANNELS.openDialog)
  electron.fromWindow(CHANNELS.saveDialog)
  await settled()
  expect(electron.child.got.slice(-2).map(({ message }) => message)).toMatchObject([
    { type: 'open-file', path: '/shows/ebb.json' },
    { type: 'save', path: '/shows/flood.json' },
  ])
  electron.openPaths = []
  electron.savePath = ''
  const before = electron.child.got.length
  electron.fromWindow(CHANNELS.openDialog)
  electron.fromWindow(CHANNELS.saveDialog)
  await settled()
  expect(electron.child.got).toHaveLength(before)
})

test.each([[''], [7], [null], ['x'.repeat(5000)]])(
  'a dropped path is looked at: %j is not one',
  async (path) => {
    const { electron } = await startDesktop()
    const before = electron.child.got.length
    electron.fromWindow(CHANNELS.openDropped, path)
    expect(electron.child.got).toHaveLength(before)
  },
)

test('a file dropped on the window, or on the icon, is opened', async () => {
  const { electron } = await startDesktop()
  electron.fromWindow(CHANNELS.openDropped, '/shows/ebb.json')
  expect(electron.child.got.at(-1)?.message).toMatchObject({ type: 'open-file', path: '/shows/ebb.json' })
  const event = new Preventable()
  electron.appEvents.emit('open-file', event, '/shows/flood.json')
  expect(event.isPrevented).toBe(true)
  expect(electron.child.got.at(-1)?.message).toMatchObject({ type: 'open-file', path: '/shows/flood.json' })
})

test('the machine is kept awake while a show runs, and only then', async () => {
  const { electron, say } = await startDesktop({ words: ['tide.json'] })
  expect(electron.blockers.size).toBe(0)
  say(showWord())
  expect(electron.blockers.size).toBe(0)
  say(LOADED)
  expect(electron.blockers.size).toBe(1)
  expect(electron.log).toContain('keep awake: prevent-display-sleep')
  say(LOADED)
  expect(electron.blockers.size).toBe(1)
  say({ type: 'stopped', clean: true })
  expect(electron.blockers.size).toBe(0)
  say(LOADED)
  say(showWord({ isDemo: true }))
  expect(electron.blockers.size).toBe(0)
})

test('sleep and wake reach the host', async () => {
  const { electron } = await startDesktop()
  electron.power.emit('suspend')
  electron.power.emit('resume')
  expect(electron.child.types().slice(-2)).toEqual(['sleep', 'awake'])
})

test('a page that breaks is drawn anew, the host is not touched; one that breaks again and again is left', async () => {
  const { electron } = await startDesktop()
  const before = electron.child.got.length
  for (let turn = 0; turn < 6; turn++) {
    electron.window.webContents.emit('render-process-gone', new Preventable(), {
      reason: 'crashed',
      exitCode: 11,
    })
  }
  expect(electron.window.webContents.reloads).toBe(3)
  expect(electron.child.got).toHaveLength(before)
  expect(electron.children).toHaveLength(1)
  expect(electron.child.kills).toBe(0)
})

test('a host that dies is started again with the show that was open, and the window gets a new port', async () => {
  const { electron, say, waits } = await startDesktop({ words: ['tide.json'] })
  electron.fromWindow(CHANNELS.connect)
  say(showWord())
  electron.child.emit('exit', 139)
  waits[0]?.call()
  expect(electron.children).toHaveLength(2)
  expect(electron.child.got.map(({ message }) => message)).toMatchObject([
    { type: 'enter' },
    { type: 'begin', path: '/home/player/shows/tide.json' },
    { type: 'attach' },
  ])
  expect(electron.window.webContents.sent.filter(({ channel }) => channel === CHANNELS.port)).toHaveLength(2)
})

test('a host that dies at once each time is started more and more slowly', async () => {
  const { electron, waits } = await startDesktop()
  for (let death = 0; death < 9; death++) {
    electron.child.emit('exit', 1)
    waits.at(-1)?.call()
  }
  expect(electron.children).toHaveLength(10)
  expect(waits.map(({ ms }) => ms)).toEqual([0, 500, 1000, 2000, 4000, 8000, 10_000, 10_000, 10_000])
})

test('quitting darkens first and waits for the host', async () => {
  const { electron } = await startDesktop()
  const event = electron.quit()
  expect(event.isPrevented).toBe(true)
  expect(electron.child.types().at(-1)).toBe('quit')
  expect(electron.log).not.toContain('exit')
  electron.child.emit('exit', 0)
  await settled()
  expect(electron.log.at(-1)).toBe('exit')
  expect(electron.children).toHaveLength(1)
})

test('a host that does not end is killed, and the app ends all the same', async () => {
  const { electron, waits } = await startDesktop()
  electron.quit()
  expect(waits.at(-1)?.ms).toBe(4000)
  waits.at(-1)?.call()
  await settled()
  expect(electron.child.kills).toBe(1)
  expect(electron.log.at(-1)).toBe('exit')
})

test.each([
  ['real lamps', { rig: 'real' }],
  ['work not saved', { isSaved: false }],
] as const)('with %s closing asks first; going on closes nothing', async (_, over) => {
  const { electron, say } = await startDesktop({ words: ['tide.json'] })
  say(showWord(over))
  const event = new Preventable()
  electron.window.emit('close', event)
  await settled()
  expect(event.isPrevented).toBe(true)
  expect(electron.asked).toBe(1)
  expect(electron.child.types()).not.toContain('quit')
  electron.boxAnswer = 1
  electron.window.emit('close', new Preventable())
  await settled()
  expect(electron.child.types().at(-1)).toBe('quit')
})

test('when the machine shuts down there is no time to ask', async () => {
  const { electron, say } = await startDesktop({ words: ['tide.json'] })
  say(showWord({ rig: 'real' }))
  const event = new Preventable()
  electron.power.emit('shutdown', event)
  expect(event.isPrevented).toBe(true)
  expect(electron.asked).toBe(0)
  expect(electron.child.types().at(-1)).toBe('quit')
})

test('the title says which show, and whether it is saved; recent shows are told to the system once', async () => {
  const { electron, say } = await startDesktop({ words: ['tide.json'] })
  say(showWord())
  say(showWord({ isSaved: false, revision: 2 }))
  expect(electron.window).toMatchObject({
    title: '* tide.json - Lanthorn',
    isEdited: true,
    file: '/home/player/shows/tide.json',
  })
  expect(electron.recentDocuments).toEqual(['/home/player/shows/tide.json'])
  say(showWord({ file: null, isSaved: true }))
  expect(electron.window).toMatchObject({
    title: 'Glasshouse, second night - Lanthorn',
    isEdited: false,
    file: '',
  })
})

test('what the host says wrongly is not read', async () => {
  const { electron } = await startDesktop({ words: ['tide.json'] })
  for (const raw of [null, 'loaded', { v: 99, ...LOADED }, { v: 1, type: 'loaded' }])
    electron.child.emit('message', raw)
  expect(electron.blockers.size).toBe(0)
})
