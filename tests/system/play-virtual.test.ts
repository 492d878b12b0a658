import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { resolve } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { eventually } from '../support/eventually.ts'
import { lanthorn } from '../support/lanthorn.ts'
import { startPlaying } from '../support/play-process.ts'
import { REAL_PROCESSES } from '../support/real-processes.ts'

const DEMO = resolve(import.meta.dirname, '../../assets/shows/glasshouse.json')

test(
  'on a machine with nothing attached the demo plays on the virtual rig, says what is amiss, and stops clean',
  REAL_PROCESSES,
  async () => {
    const play = await startPlaying(DEMO, {}, '--rig', 'virtual', '--song', 'mist')
    onTestFinished(async () => void (await play.interrupt()))
    await eventually(() => play.portState('wire') === 'ready' && play.portState('din') === 'open', 5_000)
    expect(play.of('loaded')[0]).toMatchObject({ song: 'mist' })
    // What is amiss with MIDI is said, whether it cannot be had or the keyboard is not there.
    await eventually(() => ['unavailable', 'missing'].includes(play.portState('keys') ?? ''), 5_000)
    expect(await play.interrupt()).toBe(0)
    expect(play.of('stopped')).toEqual([{ v: 1, type: 'stopped', clean: true }])
  },
)

test(
  'a show at fault ends with 1 before anything is started; a song that is not there as well',
  REAL_PROCESSES,
  () => {
    expect(lanthorn('play', '/no/such/show.json')).toMatchObject({ code: 1 })
    const ran = lanthorn('play', DEMO, '--song', 'none')
    expect(ran.code).toBe(1)
    expect(ran.err).toMatch(/no song "none"; it has/)
    expect(lanthorn('play', DEMO, '--rig', 'imaginary').code).toBe(2)
  },
)

test('ports lists what there is, as text and as JSON, and says what cannot be listed', REAL_PROCESSES, () => {
  const text = lanthorn('ports')
  expect(text.code).toBe(0)
  expect(text.out).toMatch(/^MIDI inputs\n[\s\S]*MIDI outputs\n[\s\S]*Serial ports\n/)
  const json = JSON.parse(lanthorn('ports', '--json').out) as Record<string, unknown>
  expect(Object.keys(json)).toEqual(['midiIn', 'midiOut', 'serial', 'trouble'])
})

test(
  'the view on a terminal is drawn and drawn over, and d, n, p and q are heard',
  REAL_PROCESSES,
  async () => {
    // `script` gives the command a terminal; what it types comes through a pipe.
    const command = `node ${resolve(import.meta.dirname, '../../app/cli/lanthorn.mjs')} play ${DEMO} --rig virtual`
    const shell = spawn('script', ['-qec', command, '/dev/null'], { stdio: ['pipe', 'pipe', 'inherit'] })
    onTestFinished(() => void shell.kill('SIGKILL'))
    const exit = once(shell, 'exit')
    let shown = ''
    shell.stdout.setEncoding('utf8').on('data', (text: string) => (shown += text))
    const after = async (key: string, words: string): Promise<void> => {
      const from = shown.length
      shell.stdin.write(key)
      await eventually(() => shown.slice(from).includes(words), 10_000)
    }
    await after('', 'song dew; ready')
    await after('d', 'all dark')
    await after('n', 'song mist')
    await after('p', 'song dew')
    expect(shown).toMatch(/fern\s+\./)
    await after('q', 'stopped; every lamp is dark')
    const [status] = (await exit) as [number | null]
    expect(status).toBe(0)
  },
)
