import { existsSync, realpathSync } from 'node:fs'
import { dirname } from 'node:path'
import { songSheet } from '../../src/offline/song-sheet.ts'
import { fileTrouble } from '../engine/host/file-trouble.ts'
import { Failure } from './failure.ts'
import { PartFile } from './part-file.ts'
import { readShow } from './read-show.ts'

export interface SheetArguments {
  readonly out: string
}

/** `lanthorn sheet SHOW --out FILE.html`: the set list and a sheet for each song, as a page to be printed. The file is whole or as it was. */
export function sheetCommand(showPath: string, { out }: SheetArguments): void {
  const show = readShow(showPath)
  refuseOverwriting(out, showPath)
  writeWhole(out, songSheet(show))
  process.stdout.write(`${out}: open it in a browser and print it\n`)
}

/** Neither the file nor what stands beside it until it is whole may be the show. */
function refuseOverwriting(out: string, showPath: string): void {
  const source = realpathSync(showPath)
  if ([out, `${out}.part`].some((path) => existsSync(path) && realpathSync(path) === source)) {
    throw new Failure(`${out} is the show itself, and would be overwritten; name another file with --out`)
  }
}

function writeWhole(path: string, text: string): void {
  const folder = dirname(path)
  if (!existsSync(folder))
    throw new Failure(`${path}: there is no folder ${folder}; make it, or name another`)
  let file: PartFile | undefined
  try {
    file = new PartFile(path)
    file.write(new TextEncoder().encode(text))
    file.finish()
  } catch (error) {
    dropQuietly(file)
    throw error instanceof Error && 'code' in error ? new Failure(`${path}: ${fileTrouble(error)}`) : error
  }
}

function dropQuietly(file: PartFile | undefined): void {
  try {
    file?.drop()
  } catch {
    // What went wrong first is what is told.
  }
}
