import { z } from 'zod'
import { readRecords, recordBytes } from './records.ts'
import { spliced, spliceOf } from './splice.ts'

const KIND = 'lanthorn-journal'
const VERSION = 1

/** Which file the work is of, and what was in that file when the work was begun. */
export interface JournalBase {
  /** Absolute path; null: it never had one. */
  readonly file: string | null
  /** Of what was in the file when the work began, and of what we were about to put there. */
  readonly stamps: readonly string[]
}

/** A show's text at a revision of the process that wrote it. */
export interface Work {
  readonly base: JournalBase
  readonly text: string
  readonly revision: number
}

const header = z.strictObject({
  kind: z.literal(KIND),
  version: z.literal(VERSION),
  file: z.string().nullable(),
  stamps: z.array(z.string()),
})

const step = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('text'), revision: z.int(), at: z.string(), text: z.string() }),
  z.strictObject({
    kind: z.literal('change'),
    revision: z.int(),
    at: z.string(),
    from: z.int().min(0),
    to: z.int().min(0),
    text: z.string(),
  }),
  z.strictObject({ kind: z.literal('put'), stamp: z.string() }),
])

/** A whole journal of one text. `at`: when it was done, ISO 8601. */
export function journalBytes({ base, text, revision }: Work, at: string): Buffer {
  const { file, stamps } = base
  return Buffer.concat([
    recordBytes({ kind: KIND, version: VERSION, file, stamps }),
    recordBytes({ kind: 'text', revision, at, text }),
  ])
}

/** What is appended when the text became another. */
export function changeBytes(before: Work, { text, revision }: Work, at: string): Buffer {
  return recordBytes({ kind: 'change', revision, at, ...spliceOf(before.text, text) })
}

/** What is appended before something with that stamp is put into the file. */
export function putBytes(stamp: string): Buffer {
  return recordBytes({ kind: 'put', stamp })
}

export type ReadJournal =
  | { readonly state: 'read'; readonly work: Work; readonly at: string }
  /** A newer Lanthorn's. */
  | { readonly state: 'newer' }
  /** Nothing whole is in it. */
  | { readonly state: 'broken' }

/** The last text that is whole in a journal. Never throws. */
export function readJournal(bytes: Buffer): ReadJournal {
  const [first, ...rest] = readRecords(bytes)
  const head = header.safeParse(first)
  if (!head.success) return { state: isNewer(first) ? 'newer' : 'broken' }
  const { file } = head.data
  const stamps = [...head.data.stamps]
  let last: { readonly text: string; readonly revision: number; readonly at: string } | undefined
  for (const raw of rest) {
    const read = step.safeParse(raw)
    if (!read.success) break
    if (read.data.kind === 'put') {
      stamps.push(read.data.stamp)
      continue
    }
    const { revision, at } = read.data
    const text = read.data.kind === 'text' ? read.data.text : last && spliced(last.text, read.data)
    if (text === undefined) break
    last = { text, revision, at }
  }
  if (!last) return { state: 'broken' }
  return {
    state: 'read',
    work: { base: { file, stamps }, text: last.text, revision: last.revision },
    at: last.at,
  }
}

function isNewer(first: unknown): boolean {
  if (typeof first !== 'object' || first === null || !('kind' in first) || first.kind !== KIND) return false
  return 'version' in first && typeof first.version === 'number' && first.version > VERSION
}
