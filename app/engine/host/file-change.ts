import { basename } from 'node:path'
import type { Show } from '../../../src/domain/show.ts'
import { differenceWords } from './show-difference.ts'
import type { FileSeen } from './show-file.ts'
import { readShowBytes } from './show-file.ts'

/** What a person is told of a show file that is not what was opened or saved here; undefined: it is. */
export function fileChangeWords(
  file: string,
  seen: FileSeen,
  stamp: string | undefined,
  ours: Show,
): string | undefined {
  const name = basename(file)
  switch (seen.state) {
    case 'gone':
      return `${name} is no longer where it was: it was removed or renamed, or its disk is gone. What is open here stays; saving writes the file anew.`
    case 'unknown':
      return `${name} cannot be looked at: ${seen.message}. What is open here stays.`
    case 'there': {
      if (seen.stamp === stamp) return undefined
      const when = new Date(seen.changedMs).toTimeString().slice(0, 8)
      const read = readShowBytes(seen.bytes)
      if (!read.ok)
        return `${name} was changed by somebody else at ${when}, and cannot be read as a show any more. What is open here stays.`
      const where = differenceWords(ours, read.show)
      const what = where === '' ? 'it says the same in other words' : `it differs in ${where}`
      return `${name} was changed by somebody else at ${when}: ${what}. Read it again, or write over it.`
    }
  }
}
