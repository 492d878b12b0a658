import { existsSync, readFileSync, readdirSync } from 'node:fs'
import { createRequire } from 'node:module'
import { join, resolve } from 'node:path'
import { expect, test } from 'vitest'

const ROOT = resolve(import.meta.dirname, '../../..')

interface Packing {
  readonly asarUnpack: string[]
  readonly files: readonly { readonly filter: readonly string[] }[]
  readonly mac: { readonly icon: string }
  readonly win: { readonly icon: string }
  readonly linux: { readonly icon: string }
}

/** electron-builder's own reader and its own schema. */
const builder = createRequire(import.meta.url)('app-builder-lib/out/util/config/config.js') as {
  getConfig(folder: string, path: string, options: null): Promise<Packing>
  validateConfiguration(config: object, log: object): Promise<void>
}
const LOG = { isEnabled: false, add: () => {} }

const packing = (): Promise<Packing> => builder.getConfig(ROOT, 'electron-builder.yml', null)

test("electron-builder's schema finds nothing wrong", async () => {
  await expect(builder.validateConfiguration(await packing(), LOG)).resolves.toBeUndefined()
})

test('the schema would find something', async () => {
  await expect(builder.validateConfiguration({ ...(await packing()), asarUnpak: [] }, LOG)).rejects.toThrow(
    /asarUnpak/,
  )
  await expect(
    builder.validateConfiguration({ ...(await packing()), npmRebuild: 'maybe' }, LOG),
  ).rejects.toThrow(/npmRebuild should be a boolean/)
})

test('all three systems are packed for, native modules outside the archive', async () => {
  const config = await packing()
  expect(Object.keys(config)).toEqual(expect.arrayContaining(['mac', 'win', 'linux']))
  // Whatever of our dependencies brings a native library must be unpacked.
  const dependencies = Object.keys(
    (JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as { dependencies: object }).dependencies,
  )
  const native = [...dependencies, '@serialport/bindings-cpp'].filter((name) =>
    existsSync(join(ROOT, 'node_modules', name, 'prebuilds')),
  )
  expect(native.sort()).toEqual(['@julusian/midi', '@serialport/bindings-cpp'])
  expect(config.asarUnpack).toEqual(native.map((name) => `node_modules/${name}/**`))
})

test('icons are there, square, and as large as their names say', async () => {
  const { mac, win, linux } = await packing()
  const folder = join(ROOT, linux.icon)
  const icons = readdirSync(folder).filter((name) => name.endsWith('.png'))
  expect(icons.length).toBeGreaterThanOrEqual(6)
  for (const icon of icons) {
    const bytes = readFileSync(join(folder, icon))
    // PNG (ISO/IEC 15948): signature, then the header chunk with width and height at byte 16.
    expect(bytes.subarray(1, 4).toString()).toBe('PNG')
    expect(`${bytes.readUInt32BE(16)}x${bytes.readUInt32BE(20)}.png`).toBe(icon)
  }
  for (const icon of [mac.icon, win.icon]) expect(existsSync(join(ROOT, icon))).toBe(true)
})

test('what the built host reads beside itself is packed', async () => {
  const { files } = await packing()
  const host = readFileSync(join(ROOT, 'app/engine/host/process.ts'), 'utf8')
  const folders = [...host.matchAll(/asset\('(\w+)/g)].map(([, folder]) => `assets/${folder}`)
  expect([...new Set(folders)].sort()).toEqual(['assets/scales', 'assets/shows'])
  for (const folder of folders) {
    expect(files.flatMap(({ filter }) => filter)).toContain(`${folder}/**`)
    expect(existsSync(join(ROOT, folder))).toBe(true)
  }
})

test('what the app starts from is what the build makes', () => {
  const { main } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as { main: string }
  expect(main).toBe('dist/main.js')
  const preload = readFileSync(join(ROOT, 'dist/preload.cjs'), 'utf8')
  // A sandboxed preload script can require Electron and nothing else.
  const required = [...preload.matchAll(/require\(["']([^"']+)["']\)/g)].map(([, name]) => name)
  expect([...new Set(required)]).toEqual(['electron'])
  for (const file of ['main.js', 'host.js', 'engine.js', 'preload.cjs', 'screens/index.html']) {
    expect(existsSync(join(ROOT, 'dist', file))).toBe(true)
  }
})
