import type { CheckFinding } from './finding.ts'
import { GRAVITIES } from './finding.ts'
import { counted } from './listed.ts'

const WIDE = 100
const INDENT = '    '

/** Findings as a person reads them in a terminal, up to 100 columns, with how many of each; no line feed at the end. */
export function formatFindings(findings: readonly CheckFinding[]): string {
  const counts = GRAVITIES.map((gravity) => {
    const count = findings.filter((finding) => finding.gravity === gravity).length
    return counted(count, gravity)
  })
  const blocks = findings.map(({ gravity, where, message }) =>
    [...wrapped(`${gravity}: ${where}`, ''), ...wrapped(message, INDENT)].join('\n'),
  )
  return [...blocks, counts.join(', ')].join('\n')
}

function wrapped(text: string, indent: string): string[] {
  const lines: string[] = []
  let line = ''
  for (const word of text.split(' ')) {
    if (line !== '' && indent.length + line.length + 1 + word.length > WIDE) {
      lines.push(indent + line)
      line = word
    } else line = line === '' ? word : `${line} ${word}`
  }
  return [...lines, indent + line]
}
