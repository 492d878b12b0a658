import { existsSync, realpathSync } from 'node:fs'
import { dirname } from 'node:path'
import { fileTrouble } from '../engine/host/file-trouble.ts'
import { Failure } from './failure.ts'
import { PartFile } from './part-file.ts'

/** Neither the file nor what stands beside it until it is whole may be one that it is made from. */
export function refuseOverwriting(
  out: string,
  made: readonly (readonly [path: string, what: string])[],
): void {
  for (const [from, what] of made) {
    if (!existsSync(from)) continue
    const source = realpathSync(from)
    if ([out, `${out}.part`].some((path) => existsSync(path) && realpathSync(path) === source)) {
      throw new Failure(`${out} is ${what} itself, and would be overwritten; name another file with --out`)
    }
  }
}

/** The file is whole or as it was. */
export function writePage(path: string, text: string): void {
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
