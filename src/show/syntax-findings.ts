import type { ParseError } from 'jsonc-parser'
import { printParseErrorCode } from 'jsonc-parser'

/** A slip in the JSON text itself, by its place in the text. */
export interface SyntaxFinding {
  readonly offset: number
  readonly found: string
  readonly expected: string
  readonly hint?: string | undefined
}

/** Nobody reads more, and garbage can have millions. */
const MOST = 100

/**
 * The parser's errors in words. Missing and surplus commas are each reported; after any other slip the parser
 * has lost its footing and what it says next is an echo, so it is the last one told.
 */
export function syntaxFindings(text: string, errors: readonly ParseError[]): SyntaxFinding[] {
  const findings: SyntaxFinding[] = []
  const slips = errors.slice(0, MOST).map((error) => ({ ...error, code: printParseErrorCode(error.error) }))
  for (const slip of slips.sort((a, b) => a.offset - b.offset || rank(a.code) - rank(b.code))) {
    if (endsText(text, slip)) return [...findings, torn(text)]
    const surplus = surplusComma(text, slip)
    const finding = surplus ?? inWords(text, slip)
    if (finding.offset !== findings.at(-1)?.offset) findings.push(finding)
    if (surplus === undefined && slip.code !== 'CommaExpected') break
  }
  return findings
}

interface Slip {
  readonly code: string
  readonly offset: number
  readonly length: number
}

/** Of several errors at one place, the one that knows most comes first. */
function rank(code: string): number {
  return code === 'EndOfFileExpected' || code === 'PropertyNameExpected' ? 0 : 1
}

function endsText(text: string, { code, offset, length }: Slip): boolean {
  const from = code === 'UnexpectedEndOfString' ? offset + length : offset
  return text.slice(from).trim() === ''
}

function torn(text: string): SyntaxFinding {
  return {
    offset: text.trimEnd().length,
    found: 'the file breaks off here',
    expected: 'the rest of the show',
    hint: 'it was probably not saved or copied to its end: take an earlier copy',
  }
}

function surplusComma(text: string, { code, offset }: Slip): SyntaxFinding | undefined {
  if (code !== 'ValueExpected' && code !== 'PropertyNameExpected') return undefined
  const before = text.slice(0, offset).trimEnd()
  if (!before.endsWith(',') || !/^[\]}]/.test(text.slice(offset, offset + 1))) return undefined
  return { offset: before.length - 1, found: 'a comma with nothing after it', expected: 'no comma here' }
}

const EXPECTED: Readonly<Record<string, string>> = {
  InvalidSymbol: 'a value: text in double quotes, a number, true, false, null, {...} or [...]',
  InvalidNumberFormat: 'a number such as 4 or 97.0625',
  PropertyNameExpected: 'a field name in double quotes',
  ValueExpected: 'a value',
  ColonExpected: 'a colon after the field name',
  CommaExpected: 'a comma between two items',
  CloseBraceExpected: 'a closing }',
  CloseBracketExpected: 'a closing ]',
  EndOfFileExpected: 'nothing after the end of the show',
  InvalidCommentToken: 'no comment, which JSON does not have',
  UnexpectedEndOfComment: 'no comment, which JSON does not have',
  UnexpectedEndOfString: 'a closing double quote on the same line',
  UnexpectedEndOfNumber: 'a number such as 4 or 97.0625',
  InvalidUnicode: 'four hexadecimal digits after \\u',
  InvalidEscapeCharacter: 'one of " \\ / b f n r t u after a backslash',
  InvalidCharacter: 'text without line breaks, tabs or other control characters',
}

function inWords(text: string, { code: given, offset, length }: Slip): SyntaxFinding {
  // A bare word before a colon is a name that lacks its quotes.
  const isName = given === 'InvalidSymbol' && /^\s*:/.test(text.slice(offset + length, offset + length + 20))
  const code = isName ? 'PropertyNameExpected' : given
  return {
    offset,
    found: `not JSON: found ${snippet(text, offset, length)}`,
    expected: EXPECTED[code] ?? 'JSON',
  }
}

function snippet(text: string, offset: number, length: number): string {
  const piece = text.slice(offset, offset + Math.max(1, Math.min(length, 20)))
  const code = piece.codePointAt(0) ?? 0
  if (code === 0) return 'a zero byte'
  return code < 0x20 ? 'a control character' : `\`${piece.split(/[\r\n]/, 1).join('')}\``
}
