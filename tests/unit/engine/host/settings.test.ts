import { chmodSync, mkdirSync, readdirSync, readFileSync, statSync, utimesSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { Settings } from '../../../../app/engine/host/settings.ts'
import { stateFolder } from '../../../../app/engine/host/state-folder.ts'
import { scratchFolder } from '../../../support/scratch.ts'

function setUp() {
  const folder = scratchFolder()
  const troubles: string[] = []
  const open = (): Settings => new Settings(join(folder, 'state'), (message) => troubles.push(message))
  const path = join(folder, 'state', 'host.json')
  const put = (content: string | Uint8Array): void => {
    mkdirSync(join(folder, 'state'), { recursive: true })
    writeFileSync(path, content)
  }
  return { folder, path, troubles, open, put }
}

test('the first start has nothing to remember; the next one has', async () => {
  const { open, troubles, path } = setUp()
  const first = open()
  expect([first.recent, first.areCautionsRead]).toEqual([[], false])
  first.opened('/shows/a.json')
  first.cautionsRead()
  await first.written()
  const next = open()
  expect([next.recent, next.areCautionsRead]).toEqual([['/shows/a.json'], true])
  expect(statSync(path).mode & 0o777).toBe(0o600)
  expect(troubles).toEqual([])
})

test('ten shows are remembered, each once, the latest first, those that are gone last', async () => {
  const { folder, open } = setUp()
  const settings = open()
  const here = join(folder, 'here.json')
  writeFileSync(here, '')
  settings.opened(here)
  for (let count = 0; count < 9; count++) settings.opened(`/gone/${count}.json`)
  settings.opened('/gone/4.json')
  expect(settings.recent).toEqual([
    here,
    ...[4, 8, 7, 6, 5, 3, 2, 1, 0].map((count) => `/gone/${count}.json`),
  ])
  settings.opened('/gone/9.json')
  await settings.written()
  expect(open().recent).toEqual([9, 4, 8, 7, 6, 5, 3, 2, 1, 0].map((count) => `/gone/${count}.json`))
})

test('two processes that remember at the same time lose nothing of each other', async () => {
  const { open } = setUp()
  const [one, other] = [open(), open()]
  for (let count = 0; count < 5; count++) {
    one.opened(`/one/${count}.json`)
    other.opened(`/other/${count}.json`)
    await Promise.all(count % 2 === 0 ? [one.written(), other.written()] : [])
  }
  other.cautionsRead()
  await Promise.all([one.written(), other.written()])
  const next = open()
  expect([...next.recent].sort()).toEqual(
    [0, 1, 2, 3, 4].flatMap((count) => [`/one/${count}.json`, `/other/${count}.json`]).sort(),
  )
  expect(next.areCautionsRead).toBe(true)
})

test('a process that ended while it remembered keeps nobody from it', async () => {
  const { path, open, put } = setUp()
  put(JSON.stringify(good))
  writeFileSync(`${path}.lock`, '')
  const long = new Date(Date.now() - 60_000)
  utimesSync(`${path}.lock`, long, long)
  const settings = open()
  settings.opened('/b.json')
  await settings.written()
  expect(open().recent).toEqual(['/b.json', '/a.json'])
})

const good = { format: 'lanthorn-host', version: 1, recent: ['/a.json'], areCautionsRead: true }

test.each([
  ['torn', JSON.stringify(good).slice(0, 40)],
  ['empty', ''],
  ['of zeros', new Uint8Array(200)],
  ['foreign', '{"theme": "dark"}'],
  ['of a newer version', JSON.stringify({ ...good, version: 2 })],
  ['with a field too many', JSON.stringify({ ...good, more: 1 })],
  ['enormous', 'x'.repeat(1_000_001)],
])('a file that is %s is set aside, and what was in it is kept', async (_, content) => {
  const { folder, path, open, put, troubles } = setUp()
  put(content)
  const settings = open()
  expect([settings.recent, settings.areCautionsRead]).toEqual([[], false])
  expect(troubles).toEqual([expect.stringContaining('set aside')])
  settings.opened('/b.json')
  await settings.written()
  expect(readFileSync(`${path}.set-aside-1`).equals(Buffer.from(content))).toBe(true)
  put('torn again')
  open()
  expect(readdirSync(join(folder, 'state')).sort()).toEqual([
    'host.json.set-aside-1',
    'host.json.set-aside-2',
  ])
})

test('a folder that cannot be written to costs the memory, nothing else', async () => {
  const { folder, troubles } = setUp()
  writeFileSync(join(folder, 'file'), '')
  const settings = new Settings(join(folder, 'file', 'state'), (message) => troubles.push(message))
  settings.opened('/a.json')
  await settings.written()
  expect(settings.recent).toEqual(['/a.json'])
  expect(troubles.at(-1)).toContain('will not be remembered')
})

test('a folder in the place of the file is left alone', async () => {
  const { path, open, troubles } = setUp()
  mkdirSync(join(path, 'inside'), { recursive: true })
  const settings = open()
  settings.cautionsRead()
  await settings.written()
  expect(settings.areCautionsRead).toBe(true)
  expect(troubles).toHaveLength(1)
  chmodSync(path, 0o700)
})

test('the state folder is where the system has such things', () => {
  const at = (env: Record<string, string>, platform: string): string =>
    stateFolder({ env, platform, home: '/home/me' })
  expect(at({ LANTHORN_STATE: '/own', XDG_STATE_HOME: '/xdg' }, 'linux')).toBe('/own')
  // XDG Base Directory Specification 0.8: unset or empty means $HOME/.local/state.
  expect(at({ XDG_STATE_HOME: '/xdg' }, 'linux')).toBe('/xdg/lanthorn')
  expect(at({ XDG_STATE_HOME: '' }, 'linux')).toBe('/home/me/.local/state/lanthorn')
  expect(at({}, 'darwin')).toBe('/home/me/Library/Application Support/Lanthorn')
  expect(at({}, 'win32')).toBe('/home/me/AppData/Local/Lanthorn')
})
