/** What is wrong with one line of a scale file or a keyboard mapping. */
export interface ScaleFileFault {
  /** From 1. */
  readonly line: number
  /** What is there, what was expected, what to do. */
  readonly message: string
}

/** Read, or what is wrong with it: at least one fault. */
export type ScaleFileRead<T> =
  { readonly ok: true; readonly read: T } | { readonly ok: false; readonly faults: readonly ScaleFileFault[] }

/** The most faults of one file that are written out in full. */
const MOST = 100
/** Characters of a line that are shown. */
const LONGEST = 40

/** `found "-3/2"; expected a pitch; a ratio below 0 has none`. */
export function scaleFault(line: number, found: string, expected: string, hint?: string): ScaleFileFault {
  const parts = [found, `expected ${expected}`, ...(hint === undefined ? [] : [hint])]
  return { line, message: parts.join('; ') }
}

/** What stands on a line, long text cut. */
export function foundText(text: string): string {
  const plain = text.trim()
  if (plain === '') return 'found an empty line'
  return `found ${JSON.stringify(plain.length > LONGEST ? `${plain.slice(0, LONGEST)}...` : plain)}`
}

/** `marsh.scl (line 7): found "-3/2"; expected ...`, a line for each fault, the first hundred; the rest are counted. */
export function formatScaleFaults(file: string, faults: readonly ScaleFileFault[]): string[] {
  const lines = faults.slice(0, MOST).map(({ line, message }) => `${file} (line ${line}): ${message}`)
  return faults.length > MOST ? [...lines, `${file}: and ${faults.length - MOST} more`] : lines
}
