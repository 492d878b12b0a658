import { checkShow } from '../../src/offline/check-show.ts'
import { countsText, findingBlocks } from '../../src/offline/check/format-findings.ts'
import { formatGig, gigFindings } from '../../src/offline/gig-check/gig-text.ts'
import type { TakeArguments } from './count-takes.ts'
import { countTakes } from './count-takes.ts'
import { readShow } from './read-show.ts'

/** `lanthorn check SHOW`: everything that would go wrong on stage, and what is counted in takes. Ends with 1 only where the show itself is at fault. */
export async function checkCommand(path: string, given: TakeArguments): Promise<void> {
  const show = readShow(path)
  const gig = await countTakes(show, path, given)
  const findings = checkShow(show)
  const all = [...findings, ...gigFindings(gig.songs)]
  const text = [...findingBlocks(findings), '', formatGig(gig), '', countsText(all)]
  process.stdout.write(`${text.join('\n')}\n`)
}
