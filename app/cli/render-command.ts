import { existsSync, mkdirSync, realpathSync } from 'node:fs'
import { join, resolve } from 'node:path'
import type { Show } from '../../src/domain/show.ts'
import { render, SOUND_RATE } from '../../src/offline/render.ts'
import type { Take } from '../../src/offline/take.ts'
import { wavHeader } from '../../src/offline/wav.ts'
import { fileTrouble } from '../engine/host/file-trouble.ts'
import { Failure } from './failure.ts'
import { PartFile } from './part-file.ts'
import { createProgress } from './progress.ts'
import { readShow, songOf } from './read-show.ts'
import { parseMap, readTake } from './read-take.ts'

export interface RenderArguments {
  readonly song?: string
  readonly map: readonly string[]
  readonly out: string
}

/** `lanthorn render SHOW TAKE.mid --out DIR`: what every lamp does, the bytes for the outputs, the sound, and the figures, as files. */
export function renderCommand(showPath: string, takePath: string, given: RenderArguments): void {
  const map = parseMap(given.map)
  const show = readShow(showPath)
  const song = songOf(show, given.song)
  const take = readTake(takePath, show, map)
  const names = fileNames(show)
  const folder = openFolder(given.out)
  refuseOverwriting(folder, names, [showPath, takePath])
  const summary = writeAll(folder, names, show, song, take)
  process.stdout.write(`${summary}\n\n${names.length} files in ${folder}: ${names.join(', ')}\n`)
}

function fileNames(show: Show): string[] {
  const outputs = show.rig.outputs.map(({ id, kind }) => (kind === 'serial' ? `${id}.bin` : `${id}.mid`))
  return ['lamps.jsonl', ...outputs, 'pickup.wav', 'report.json']
}

function openFolder(path: string): string {
  try {
    mkdirSync(path, { recursive: true })
    return resolve(path)
  } catch (error) {
    throw new Failure(`--out ${path}: ${fileTrouble(error)}`)
  }
}

function refuseOverwriting(folder: string, names: readonly string[], inputs: readonly string[]): void {
  const sources = inputs.map((path) => realpathSync(path))
  for (const name of names) {
    const target = join(folder, name)
    if (existsSync(target) && sources.includes(realpathSync(target))) {
      throw new Failure(
        `${target} is what is being read, and would be overwritten; name another folder with --out`,
      )
    }
  }
}

const encoder = new TextEncoder()

function writeAll(folder: string, names: readonly string[], show: Show, song: string, take: Take): string {
  const files = new Map<string, PartFile>()
  const progress = createProgress('rendering')
  try {
    for (const name of names) files.set(name, new PartFile(join(folder, name)))
    const lamps = fileOf(files, 'lamps.jsonl')
    const sound = fileOf(files, 'pickup.wav')
    sound.write(wavHeader(0, SOUND_RATE))
    let frames = 0
    const rendered = render(show, song, take, {
      lamp: (line) => lamps.write(encoder.encode(`${line}\n`)),
      bytes: (output, bytes) => fileOf(files, `${output}.bin`).write(bytes),
      sound: (samples) => {
        frames += samples.length / 2
        sound.write(samples)
      },
      progress: (done) => progress.show(done),
    })
    sound.rewrite(wavHeader(frames, SOUND_RATE))
    for (const [output, bytes] of rendered.midi) fileOf(files, `${output}.mid`).write(bytes)
    fileOf(files, 'report.json').write(encoder.encode(`${JSON.stringify(rendered.report, null, 2)}\n`))
    for (const file of files.values()) file.finish()
    return rendered.summary
  } catch (error) {
    for (const file of files.values()) dropQuietly(file)
    throw error instanceof RangeError || !(error instanceof Error) || !('code' in error)
      ? error
      : new Failure(`${folder}: ${fileTrouble(error)}`)
  } finally {
    progress.end()
  }
}

function dropQuietly(file: PartFile): void {
  try {
    file.drop()
  } catch {
    // It was finished already, and stays.
  }
}

function fileOf(files: ReadonlyMap<string, PartFile>, name: string): PartFile {
  const file = files.get(name)
  if (!file) throw new Error(`No file "${name}" was opened`)
  return file
}
