import { readFileSync } from 'node:fs'
import type { PlayerId } from '../../src/domain/ids.ts'
import type { Show } from '../../src/domain/show.ts'
import { readMidiFile } from '../../src/midi/file-read.ts'
import { describeFileError, describeWarning } from '../../src/midi/file-words.ts'
import type { Take } from '../../src/offline/take.ts'
import { routeTake } from '../../src/offline/take.ts'
import { fileTrouble } from '../engine/host/file-trouble.ts'
import { Failure, WrongUsage } from './failure.ts'

/** Reads a Standard MIDI File and gives its tracks to the show's players. */
export function readTake(path: string, show: Show, map: ReadonlyMap<string, PlayerId>): Take {
  let bytes: Uint8Array
  try {
    bytes = readFileSync(path)
  } catch (error) {
    throw new Failure(`${path}: ${fileTrouble(error)}`)
  }
  const read = readMidiFile(bytes)
  if (!read.ok) throw new Failure(`${path}: ${describeFileError(read.error)}`)
  const routed = routeTake(read.file, show, map)
  if (!routed.ok) throw new Failure(`${path}: ${routed.what}; ${routed.todo}`)
  const warnings = [...read.file.warnings.map(describeWarning), ...routed.take.warnings]
  return { ...routed.take, warnings }
}

/** `TRACK=PLAYER` as given on the command line. */
export function parseMap(pairs: readonly string[]): Map<string, PlayerId> {
  const map = new Map<string, PlayerId>()
  for (const pair of pairs) {
    const at = pair.lastIndexOf('=')
    if (at < 1 || at === pair.length - 1)
      throw new WrongUsage(`--map ${pair}: write it as TRACK=PLAYER, e.g. --map "Left hand=keys"`)
    const track = pair.slice(0, at)
    if (map.has(track)) throw new WrongUsage(`--map ${pair}: track "${track}" is mapped twice`)
    map.set(track, pair.slice(at + 1))
  }
  return map
}
