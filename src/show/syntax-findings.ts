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
  for (const error of errors.toSorted((a, b) => a.offset - b.offset).slice(0, MOST)) {
    const code = printParseErrorCode(error.error)
    if (
      text.slice(error.offset).trim() === '' ||
      (code === 'UnexpectedEndOfString' && isLastLine(text, error))
    ) {
      return [...findings, torn(text)]
    }
    const surplus = surplusComma(text, code, error.offset)
    findings.push(surplus ?? slip(text, code, error))
    if (surplus === undefined && code !== 'CommaExpected') break
  }
  return findings
}

function torn(text: string): SyntaxFinding {
  return {
    offset: text.trimEnd().length,
    found: 'the file breaks off here',
    expected: 'the rest of the show',
    hint: 'it was probably not saved or copied to its end: take an earlier copy',
  }
}

function isLastLine(text: string, error: ParseError): boolean {
  return text.slice(error.offset + error.length).trim() === ''
}

function surplusComma(text: string, code: string, offset: number): SyntaxFinding | undefined {
  if (code !== 'ValueExpected' && code !== 'PropertyNameExpected') return undefined
  const before = text.slice(0, offset).trimEnd()
  if (!before.endsWith(',') || !/^[\]}]/.test(text.slice(offset))) return undefined
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
  InvalidCommentToken: 'no comments: JSON has none',
  UnexpectedEndOfComment: 'no comments: JSON has none',
  UnexpectedEndOfString: 'a closing double quote on the same line',
  UnexpectedEndOfNumber: 'a number such as 4 or 97.0625',
  InvalidUnicode: 'four hexadecimal digits after \\u',
  InvalidEscapeCharacter: 'one of " \\ / b f n r t u after a backslash',
  InvalidCharacter: 'text without line breaks, tabs or other control characters',
}

function slip(text: string, code: string, { offset, length }: ParseError): SyntaxFinding {
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
  return code < 0x20 ? 'a control character' : piece.split(/[\r\n]/, 1).join('')
}
