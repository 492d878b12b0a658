import { checkShow } from '../../src/offline/check-show.ts'
import { formatFindings } from '../../src/offline/check/format-findings.ts'
import { readShow } from './read-show.ts'

/** `lanthorn check SHOW`: everything that would go wrong on stage. Ends with 1 only where the show itself is at fault. */
export function checkCommand(path: string): void {
  const show = readShow(path)
  process.stdout.write(`${formatFindings(checkShow(show))}\n`)
}
