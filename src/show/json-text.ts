import type { Node, ParseError } from 'jsonc-parser'
import { parseTree } from 'jsonc-parser'
import { pathText } from './json-path.ts'
import { repeatedFields } from './repeated-fields.ts'
import { syntaxFindings } from './syntax-findings.ts'
import type { Finding, ShowFault } from './show-fault.ts'
import { offsetOf, placeFinder } from './text-places.ts'

/** No show is a tenth as deep; what is deeper is garbage that could exhaust the stack. */
const DEEPEST = 64

export type JsonText =
  | {
      readonly ok: true
      readonly value: unknown
      locate(finding: Finding): ShowFault
      readonly repeated: readonly Finding[]
    }
  | { readonly ok: false; readonly faults: readonly ShowFault[] }

/** Reads JSON (RFC 8259) strictly and remembers where everything stands. Never throws. */
export function readJson(given: string): JsonText {
  const text = given.startsWith('\uFEFF') ? given.slice(1) : given
  const whole = unreadable(text)
  if (whole) return { ok: false, faults: [{ path: '$', ...whole }] }
  const place = placeFinder(text)
  const deep = tooDeep(text)
  if (deep !== undefined) {
    const found = `nested more than ${DEEPEST} deep`
    return { ok: false, faults: [{ path: '$', ...place(deep), found, expected: 'a Lanthorn show' }] }
  }
  const errors: ParseError[] = []
  const root = parseTree(text, errors, { disallowComments: true, allowTrailingComma: false })
  if (root === undefined || errors.length > 0) {
    const faults = syntaxFindings(text, errors).map(({ offset, ...rest }) => ({
      path: '$',
      ...place(offset),
      ...rest,
    }))
    return { ok: false, faults }
  }
  const lineOf = (node: Node) => place(node.offset).line
  return {
    ok: true,
    value: JSON.parse(text),
    repeated: repeatedFields(root, lineOf),
    locate: ({ path, ...rest }) => ({ path: pathText(path), ...place(offsetOf(root, path)), ...rest }),
  }
}

function unreadable(text: string): Omit<ShowFault, 'path'> | undefined {
  const expected = 'a Lanthorn show'
  if (text.trim() === '') return { found: 'the file is empty', expected }
  const hint = 'it was probably cut off while being saved: take an earlier copy'
  if (text.replaceAll('\0', '') === '')
    return { found: 'the file holds nothing but zero bytes', expected, hint }
  if (/^(\uFFFD|.\0)/s.test(text)) {
    return { found: 'the file is not UTF-8 text', expected, hint: 'save it again as UTF-8' }
  }
  return undefined
}

/** Where the nesting goes too deep, found without recursion; undefined where it does not. */
function tooDeep(text: string): number | undefined {
  let depth = 0
  let quoted = false
  for (let index = 0; index < text.length; index++) {
    const char = text[index]
    if (quoted && char === '\\') index++
    else if (char === '"') quoted = !quoted
    else if (quoted) continue
    else if (char === '[' || char === '{') depth++
    else if (char === ']' || char === '}') depth--
    if (depth > DEEPEST) return index
  }
  return undefined
}
