import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { expect, test } from 'vitest'
import { readMidiFile } from '../../src/midi/file-read.ts'
import { lanthorn } from '../support/lanthorn.ts'
import { scratchFolder } from '../support/scratch.ts'
import { glasshouseText } from '../support/shows.ts'

const SHOW = resolve(import.meta.dirname, '../../assets/shows/glasshouse.json')
const TAKE = resolve(import.meta.dirname, '../../assets/shows/glasshouse.mid')

interface LampLine {
  readonly t: number
  readonly lamp: string
  readonly on: boolean
}

test('render writes lamps, bytes, MIDI, sound and report, and every lamp ends dark', () => {
  const out = join(scratchFolder(), 'new', 'folder')
  const ran = lanthorn('render', SHOW, TAKE, '--out', out)
  expect(ran).toMatchObject({ code: 0, err: '' })
  const show = JSON.parse(readFileSync(SHOW, 'utf8')) as { rig: { outputs: { id: string; kind: string }[] } }
  const names = show.rig.outputs.map(({ id, kind }) => `${id}.${kind === 'serial' ? 'bin' : 'mid'}`)
  expect(readdirSync(out).sort()).toEqual([...names, 'lamps.jsonl', 'pickup.wav', 'report.json'].sort())

  const lines = readFileSync(join(out, 'lamps.jsonl'), 'utf8')
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as LampLine)
  expect(lines.length).toBeGreaterThan(100)
  const lit = new Set<string>()
  let last = 0
  for (const { t, lamp, on } of lines) {
    expect(t).toBeGreaterThanOrEqual(last)
    last = t
    if (on) lit.add(lamp)
    else lit.delete(lamp)
  }
  expect([...lit]).toEqual([])

  const report = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8')) as Record<string, unknown>
  expect(Object.keys(report)).toEqual([
    'seconds',
    'notesIn',
    'unplaced',
    'steals',
    'switches',
    'changes',
    'worstCents',
    'supplies',
    'flash',
    'guards',
    'warnings',
  ])
  expect(report.changes).toBe(lines.length)
  const wav = readFileSync(join(out, 'pickup.wav'))
  expect(wav.toString('latin1', 0, 4)).toBe('RIFF')
  expect(wav.readUInt32LE(40)).toBe(wav.length - 44)
  expect(wav.readUInt32LE(24)).toBe(48000)
  for (const name of names.filter((one) => one.endsWith('.mid'))) {
    expect(readMidiFile(readFileSync(join(out, name))).ok).toBe(true)
  }
})

test('the same show and take give the same files, byte for byte', () => {
  const [one, two] = [scratchFolder(), scratchFolder()]
  lanthorn('render', SHOW, TAKE, '--out', one)
  lanthorn('render', SHOW, TAKE, '--out', two)
  for (const name of readdirSync(one)) {
    expect(readFileSync(join(one, name)).equals(readFileSync(join(two, name)))).toBe(true)
  }
})

test('a track goes where --map says, by name or number', () => {
  const folder = scratchFolder()
  const show = join(folder, 'show.json')
  writeFileSync(show, glasshouseText())
  expect(lanthorn('render', show, TAKE, '--map', 'bass=keys', '--out', join(folder, 'a')).code).toBe(0)
  const ran = lanthorn('render', show, TAKE, '--map', '99=keys', '--out', join(folder, 'b'))
  expect(ran.code).toBe(1)
  expect(ran.err).toMatch(/the take has no track "99"; its tracks are 1/)
})

test('what is being read is never overwritten', () => {
  const folder = scratchFolder()
  const show = join(folder, 'report.json')
  writeFileSync(show, glasshouseText())
  const ran = lanthorn('render', show, TAKE, '--out', folder)
  expect(ran.code).toBe(1)
  expect(ran.err).toMatch(/would be overwritten; name another folder with --out/)
  expect(readFileSync(show, 'utf8')).toBe(glasshouseText())
})

test('a render that fails leaves nothing half done', () => {
  const folder = scratchFolder()
  const file = join(folder, 'file')
  writeFileSync(file, 'kept')
  const ran = lanthorn('render', SHOW, TAKE, '--out', file)
  expect(ran).toMatchObject({
    code: 1,
    err: `--out ${file}: there is a file of that name already; name a folder\n`,
  })
  expect(readFileSync(file, 'utf8')).toBe('kept')
  expect(existsSync(join(folder, 'file.part'))).toBe(false)
})
