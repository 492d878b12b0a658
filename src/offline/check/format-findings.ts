import type { CheckFinding } from './finding.ts'
import { GRAVITIES } from './finding.ts'
import { counted } from './listed.ts'

const WIDE = 100
const INDENT = '    '

/** Findings as a person reads them in a terminal, up to 100 columns, with how many of each; no line feed at the end. */
export function formatFindings(findings: readonly CheckFinding[]): string {
  return [...findingBlocks(findings), countsText(findings)].join('\n')
}

/** A block of lines for each finding. */
export function findingBlocks(findings: readonly CheckFinding[]): string[] {
  return findings.map(({ gravity, where, message }) =>
    [...wrapped(`${gravity}: ${where}`, ''), ...wrapped(message, INDENT)].join('\n'),
  )
}

/** "1 fault, 2 warnings, 0 notes" */
export function countsText(findings: readonly CheckFinding[]): string {
  return GRAVITIES.map((gravity) =>
    counted(findings.filter((finding) => finding.gravity === gravity).length, gravity),
  ).join(', ')
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
