import { chmodSync, existsSync, readFileSync, writeFileSync } from 'node:fs'
import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { join, resolve } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { enter } from '../support/caller.ts'
import { DEMO_SHOW } from '../support/demo.ts'
import { eventually } from '../support/eventually.ts'
import { lanthorn } from '../support/lanthorn.ts'
import { startOpen, startOpenIn } from '../support/open-process.ts'
import { REAL_PROCESSES } from '../support/real-processes.ts'
import { scratchFolder } from '../support/scratch.ts'
import { glasshouseText } from '../support/shows.ts'

const COMMAND = resolve(import.meta.dirname, '../../app/cli/lanthorn.mjs')

test(
  'with nothing attached it prints an address, where the demo plays: lamps change by themselves; Ctrl-C ends it, all dark',
  REAL_PROCESSES,
  async () => {
    const open = await startOpen()
    const screen = await enter({ at: open.at }, { key: open.key })
    onTestFinished(() => screen.hangUp())
    await eventually(() => screen.of('show').length > 0)
    expect(screen.of('show').at(-1)).toMatchObject({ rig: 'virtual', isDemo: true, file: null })
    await eventually(() => {
      const lit = screen.of('lamps').map(({ lamps }) => lamps.filter(({ on }) => on).map(({ lamp }) => lamp))
      return new Set(lit.map(String)).size > 5
    }, 20_000)
    expect(open.out()).toMatch(/photosensitive seizures[\s\S]*not a safety device: follow local codes/)
    expect(await open.interrupt()).toBe(0)
    expect(open.out()).toMatch(/Ended; every lamp is dark\.\n$/)
    expect(open.err()).toBe('')
    expect(screen.of('stopped')).toEqual([{ v: 1, type: 'stopped', clean: true }])
    await eventually(() => screen.closed === 1001)
  },
)

test(
  'a show is opened on the lamps that are asked for; real ones wait until the cautions were read',
  REAL_PROCESSES,
  async () => {
    const path = join(scratchFolder(), 'show.json')
    writeFileSync(path, glasshouseText())
    const virtual = await startOpen(path, '--rig', 'virtual')
    const seen = await enter({ at: virtual.at }, { key: virtual.key })
    onTestFinished(() => seen.hangUp())
    await eventually(() => seen.of('show').length > 0)
    expect(seen.of('show').at(-1)).toMatchObject({ rig: 'virtual', isDemo: false, file: path, isSaved: true })
    expect(virtual.out()).not.toContain('cautions have been read')
    const real = await startOpen(path)
    expect(real.out()).toContain('the real ones are lit once the cautions have been read, on a screen')
    const screen = await enter({ at: real.at }, { key: real.key })
    onTestFinished(() => screen.hangUp())
    await eventually(() => screen.of('show').length > 0)
    expect(screen.of('show').at(-1)?.rig).toBe('virtual')
    screen.ask({ type: 'cautions-read' })
    screen.ask({ type: 'rig', rig: 'real' })
    await eventually(() => screen.of('show').at(-1)?.rig === 'real')
  },
)

test(
  'a show at fault is told on standard error and on the screens; the demo is open in its place, and the file is left alone',
  REAL_PROCESSES,
  async () => {
    const path = join(scratchFolder(), 'broken.json')
    const broken = glasshouseText().replace('"title"', '"titel"')
    writeFileSync(path, broken)
    const open = await startOpen(path)
    expect(open.err()).toMatch(
      /not a valid show; nothing was changed\n[\s\S]*did you mean "title"[\s\S]*The demo is open/,
    )
    const screen = await enter({ at: open.at }, { key: open.key })
    onTestFinished(() => screen.hangUp())
    await eventually(() => screen.of('diagnostic').some(({ diagnostic }) => diagnostic.code === 'not-opened'))
    await eventually(() => screen.of('loaded').length > 0, 20_000)
    expect(screen.of('show').at(-1)).toMatchObject({ isDemo: true, file: null })
    const changes = [{ do: 'set', path: ['title'], value: 'Works' }]
    screen.ask({ type: 'edit', base: screen.of('show').at(-1)?.revision, label: 'title', changes })
    await eventually(() => screen.of('show').at(-1)?.show.title === 'Works')
    screen.ask({ type: 'save', path })
    await eventually(() => screen.of('failed').length > 0)
    expect(screen.of('failed')[0]?.message).toContain('left alone')
    expect(readFileSync(path, 'utf8')).toBe(broken)
    expect(await open.interrupt()).toBe(0)
    const missing = await startOpen('/no/such/show.json')
    expect(missing.err()).toMatch(/\/no\/such\/show\.json: there is no such file[\s\S]*The demo is open/)
  },
)

test(
  'killed during a gig it comes back to the same song and place, locked, with what was not saved; two at once do not disturb each other',
  REAL_PROCESSES,
  async () => {
    const [state, folder] = [scratchFolder(), scratchFolder()]
    const path = join(folder, 'show.json')
    writeFileSync(path, readFileSync(DEMO_SHOW))
    const first = await startOpenIn(state, path)
    const screen = await enter({ at: first.at }, { key: first.key })
    onTestFinished(() => screen.hangUp())
    await eventually(() => screen.of('loaded').length > 0, 20_000)
    const changes = [{ do: 'set', path: ['title'], value: 'Third night' }]
    screen.ask({ type: 'edit', base: screen.of('show').at(-1)?.revision, label: 'title', changes })
    await eventually(() => screen.of('kept').length > 0)
    screen.ask({ type: 'go', to: 'next' })
    await eventually(() => screen.of('song').length > 0)
    const stood = screen.of('song').at(-1)
    expect(stood?.position).toBe(1)
    screen.ask({ type: 'lock', locked: true })
    await eventually(() => screen.of('show').at(-1)?.isLocked === true)
    const settings = join(state, 'host.json')
    await eventually(() => /"gig": \{[^}]*"position": 1/.test(readFileSync(settings, 'utf8')))

    const beside = await startOpenIn(state)
    const other = await enter({ at: beside.at }, { key: beside.key })
    onTestFinished(() => other.hangUp())
    await eventually(() => other.of('recoveries').length > 0 && other.of('loaded').length > 0, 20_000)
    expect(other.of('show').at(-1)).toMatchObject({ isLocked: false, isDemo: true })
    expect(other.of('recoveries').at(-1)?.found).toEqual([])
    expect(await beside.interrupt()).toBe(0)

    await first.kill()
    const again = await startOpenIn(state)
    const back = await enter({ at: again.at }, { key: again.key })
    onTestFinished(() => back.hangUp())
    await eventually(() => back.of('show').length > 0 && back.of('loaded').length > 0, 20_000)
    expect(back.of('show').at(-1)).toMatchObject({
      isLocked: true,
      file: path,
      isSaved: false,
      show: { title: 'Third night' },
    })
    expect(back.of('loaded').at(-1)).toMatchObject({ song: stood?.song, position: stood?.position })
    back.ask({ type: 'open-demo' })
    await eventually(() => back.of('refused').length > 0)
    expect(readFileSync(path).equals(readFileSync(DEMO_SHOW))).toBe(true)
  },
)

test('wrong words end it with 2', REAL_PROCESSES, () => {
  for (const words of [
    ['--port', 'seven'],
    ['--port', '65536'],
    ['--port', '-1'],
    ['--rig', 'none'],
    ['--rig', 'real'],
  ]) {
    const wrong = lanthorn('open', ...words)
    expect([words, wrong.code, wrong.out]).toEqual([words, 2, ''])
    expect(wrong.err.length).toBeGreaterThan(10)
  }
})

test(
  'a port that is taken and was asked for ends it with 1, and says what to do',
  REAL_PROCESSES,
  async () => {
    const first = await startOpen()
    const ran = lanthorn('open', '--no-browser', '--port', first.at.split(':')[1] ?? '')
    expect(ran.code).toBe(1)
    expect(ran.err).toMatch(/another program's.*--port/)
  },
)

/** A program in Electron's place that notes what it is given, then ends with a code. */
function standIn(code: number): { folder: string; given: string } {
  const folder = scratchFolder()
  const [program, given] = [join(folder, 'electron'), join(folder, 'given')]
  writeFileSync(program, `#!/bin/sh\nprintf '%s\\n' "$@" > '${given}'\nexit ${code}\n`)
  chmodSync(program, 0o755)
  return { folder, given }
}

/** Runs `open` with that in Electron's place; where it serves screens, it is interrupted once it has said `until`. */
async function openWith(
  folder: string,
  env: Readonly<Record<string, string>>,
  words: readonly string[],
  until: string,
): Promise<{ code: number | null; out: string; err: string }> {
  const child = spawn(process.execPath, [COMMAND, 'open', ...words], {
    env: { ...process.env, LANTHORN_STATE: scratchFolder(), ELECTRON_OVERRIDE_DIST_PATH: folder, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let [out, err] = ['', '']
  child.stdout.setEncoding('utf8').on('data', (text: string) => (out += text))
  child.stderr.setEncoding('utf8').on('data', (text: string) => (err += text))
  const over = once(child, 'close')
  try {
    await eventually(() => out.includes(until) || child.exitCode !== null, 20_000)
  } finally {
    child.kill('SIGINT')
    await over
  }
  return { code: child.exitCode, out, err }
}

test(
  'where Electron is there and a display, it is given the app and the show, as a whole path',
  REAL_PROCESSES,
  async () => {
    const { folder, given } = standIn(0)
    const show = resolve(import.meta.dirname, '../../assets/shows/glasshouse.json')
    const ran = await openWith(folder, { DISPLAY: ':7' }, [show], 'Lanthorn is open')
    expect(ran).toEqual({ code: 0, out: '', err: '' })
    expect(readFileSync(given, 'utf8').split('\n')).toEqual([
      `${resolve(import.meta.dirname, '../..')}/`,
      show,
      '',
    ])
  },
)

test(
  'where it cannot start, where there is no display, and where an option wants the browser, the screens are served',
  REAL_PROCESSES,
  async () => {
    const broken = standIn(127)
    const fell = await openWith(broken.folder, { DISPLAY: ':7' }, [], 'Lanthorn is open')
    expect(existsSync(broken.given)).toBe(true)
    expect(fell.err).toContain('could not start here (code 127)')
    expect(fell.out).toContain('Lanthorn is open')
    const whole = standIn(0)
    const noBrowser = 'There is no display here, so no browser was opened.'
    const dark = await openWith(whole.folder, { DISPLAY: '', WAYLAND_DISPLAY: '' }, [], noBrowser)
    expect(dark.out).toContain(noBrowser)
    const wanted = await openWith(whole.folder, { DISPLAY: ':7' }, ['--no-browser'], 'Lanthorn is open')
    expect(wanted.out).toContain('Lanthorn is open')
    expect(existsSync(whole.given)).toBe(false)
  },
)
