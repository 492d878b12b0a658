import type { ScaleFileFault } from './scale-file-fault.ts'
import { scaleFault } from './scale-file-fault.ts'

/** The longest scale file or keyboard mapping that is read, in UTF-16 units. A thousand pitches of fifty characters are a tenth of it. */
export const LONGEST_SCALE_FILE = 500_000

export interface FileLine {
  /** From 1. */
  readonly number: number
  readonly text: string
}

export interface FileLines {
  /** All but comments, empty ones as well. */
  readonly lines: readonly FileLine[]
  /** Without their exclamation mark. */
  readonly comments: readonly FileLine[]
  /** Where the file ends: its last line. */
  readonly end: number
}

/**
 * The lines of a scale file or a keyboard mapping. A byte-order mark is passed over; a line ends with CR, LF or both; one whose very first character is an
 * exclamation mark is a comment.
 */
export function fileLines(text: string): FileLines | ScaleFileFault {
  if (text.length > LONGEST_SCALE_FILE) {
    const expected = `at most ${LONGEST_SCALE_FILE}`
    return scaleFault(1, `found a file of ${text.length} characters`, expected, 'take out what is no scale')
  }
  if (text.includes('\0')) {
    const hint = 'save the file as UTF-8 or ASCII'
    return scaleFault(1, 'found bytes that are no text', 'a text file', hint)
  }
  const texts = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/)
  // What follows the last line's end is no line of its own.
  if (texts.at(-1) === '') texts.pop()
  const all = texts.map((line, place): FileLine => ({ number: place + 1, text: line }))
  return {
    lines: all.filter(({ text }) => !text.startsWith('!')),
    comments: all
      .filter(({ text }) => text.startsWith('!'))
      .map((one) => ({ ...one, text: one.text.slice(1) })),
    end: Math.max(1, all.length),
  }
}

/** Without the empty lines at the end. */
export function withoutEmptyEnd(lines: readonly FileLine[]): readonly FileLine[] {
  return lines.slice(0, lines.findLastIndex(({ text }) => text.trim() !== '') + 1)
}
