import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { build } from 'vite'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { readJournal } from '../../app/engine/host/unsaved/journal-file.ts'
import { parseShow } from '../../src/show/parse-show.ts'
import { strategies } from '../../src/strategies/registry.ts'
import { DEMO_SHOW } from '../support/demo.ts'
import { eventually } from '../support/eventually.ts'
import { scratchFolder } from '../support/scratch.ts'
import { glasshouseText } from '../support/shows.ts'

const ROOT = resolve(import.meta.dirname, '../..')
/** A kill hits each of so many hosts at a moment of its own. */
const HOSTS = 10
const KILLS = 20
/** At the same time. */
const LANES = 2
/** A kill comes after so many saves at most were told, and then so many milliseconds at most. */
const MOST_SAVES = 2 * HOSTS
const LATEST_MS = 50

let [outDir, worker] = ['', '']

beforeAll(async () => {
  outDir = mkdtempSync(join(tmpdir(), 'lanthorn-worker-'))
  await build({
    configFile: false,
    root: ROOT,
    logLevel: 'warn',
    resolve: { mainFields: ['module', 'main'] },
    ssr: { noExternal: true },
    build: {
      ssr: true,
      target: 'node20',
      outDir,
      emptyOutDir: true,
      minify: false,
      rolldownOptions: {
        input: { worker: 'tests/support/saving-worker.ts' },
        output: { entryFileNames: '[name].mjs' },
      },
    },
  })
  worker = join(outDir, 'worker.mjs')
})

afterAll(() => rmSync(outDir, { recursive: true, force: true }))

interface Band {
  readonly folder: string
  readonly show: string
  /** The highest title that was told as being in the file, and as being on the disk at all. */
  saved: number
  kept: number
}

function newBand(): Band {
  const folder = scratchFolder()
  const show = join(folder, 'show.json')
  writeFileSync(show, glasshouseText({ title: '0' }))
  return { folder, show, saved: 0, kept: 0 }
}

/** One process with all of them, killed at some moment after they have begun to save. What it said, by host. */
async function live(bands: readonly Band[]): Promise<string[][]> {
  const child = spawn(process.execPath, [worker, DEMO_SHOW, ...bands.map(({ folder }) => folder)], {
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  let out = ''
  child.stdout.setEncoding('utf8').on('data', (text: string) => (out += text))
  const over = once(child, 'close')
  const count = (word: string): number => out.split(` ${word} `).length - 1
  const saves = Math.floor(Math.random() * MOST_SAVES)
  await eventually(
    () => (count('begun') === HOSTS && count('saved') >= saves) || child.exitCode !== null,
    60_000,
  )
  await new Promise((done) => setTimeout(done, Math.random() * LATEST_MS))
  child.kill('SIGKILL')
  await over
  const lines = out.split('\n').slice(0, -1)
  return bands.map((_, place) =>
    lines.filter((line) => line.startsWith(`${place} `)).map((line) => line.slice(String(place).length + 1)),
  )
}

const numbers = (lines: readonly string[], word: string): number[] =>
  lines.filter((line) => line.startsWith(`${word} `)).map((line) => Number(line.split(' ')[1]))

/** Throws where it is not a whole show. */
function titleOf(text: string): number {
  const parsed = parseShow(text, strategies)
  if (!parsed.ok) throw new Error(`not a whole show:\n${text}`)
  return Number(parsed.show.title)
}

/** The highest title that is in a whole journal; -1: there is none. */
function journalled(folder: string): number {
  const unsaved = join(folder, 'state', 'unsaved')
  const names = readdirSync(unsaved).filter((name) => name.endsWith('.journal'))
  const read = names.map((name) => readJournal(readFileSync(join(unsaved, name))))
  return Math.max(-1, ...read.map((one) => (one.state === 'read' ? titleOf(one.work.text) : -1)))
}

const met = { saved: 0, unsaved: 0, ended: 0 }

function examine(band: Band, lines: readonly string[]): void {
  expect(lines.filter((line) => line.startsWith('trouble'))).toEqual([])
  const [begun] = numbers(lines, 'begun')
  // What it found again is as new as all that was told before.
  expect(begun).toBeGreaterThanOrEqual(Math.max(band.saved, band.kept))
  const before = band.saved
  band.saved = Math.max(band.saved, ...numbers(lines, 'saved'))
  band.kept = Math.max(band.kept, ...numbers(lines, 'kept'))
  const inFile = titleOf(readFileSync(band.show, 'utf8'))
  expect(inFile).toBeGreaterThanOrEqual(band.saved)
  const onDisk = Math.max(inFile, journalled(band.folder))
  expect(onDisk).toBeGreaterThanOrEqual(band.kept)
  met.saved += band.saved > before ? 1 : 0
  met.unsaved += onDisk > inFile ? 1 : 0
  met.ended += readdirSync(band.folder).some((name) => name.endsWith('.part')) ? 1 : 0
}

test(`killed at ${HOSTS * KILLS} moments while they save: each file is the old or the new one, whole, and nothing that was told as saved or kept is lost`, async () => {
  let kills = 0
  const lane = async (): Promise<void> => {
    const bands = Array.from({ length: HOSTS }, newBand)
    while (kills < KILLS) {
      kills += 1
      const said = await live(bands)
      for (const [place, band] of bands.entries()) examine(band, said[place] ?? [])
    }
  }
  await Promise.all(Array.from({ length: LANES }, lane))
  console.log(
    `of ${HOSTS * KILLS}: ${met.saved} had saved, ${met.unsaved} had unsaved work, ${met.ended} were writing the file`,
  )
  // Kills came before, within and after saves, with and without unsaved work.
  expect(met.saved).toBeGreaterThan(20)
  expect(met.unsaved).toBeGreaterThan(20)
}, 240_000)
