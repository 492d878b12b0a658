import { existsSync, readFileSync, renameSync, statSync } from 'node:fs'
import { mkdir, readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { z } from 'zod'
import { writeWhole } from './atomic-file.ts'
import { fileTrouble } from './file-trouble.ts'
import { inTurn } from './in-turn.ts'

const FORMAT = 'lanthorn-host'
const MOST_RECENT = 10
/** Bytes; anything larger is not ours. */
const LARGEST = 1_000_000

/** A show that is open, and where in it the band is. */
const standing = z.strictObject({
  /** Absolute path; null: the demo, or a show that never had one. */
  file: z.string().max(4096).nullable(),
  isDemo: z.boolean(),
  /** Where its unsaved work is, where there is any. */
  journal: z.string().max(200),
  /** The process that has it open. */
  owner: z.string().max(200),
  rig: z.enum(['real', 'virtual']),
  song: z.string().nullable(),
  position: z.int().nullable(),
})

export type Standing = z.output<typeof standing>

const schema = z.strictObject({
  format: z.literal(FORMAT),
  version: z.literal(1),
  /** Absolute paths, latest first. */
  recent: z.array(z.string().min(1).max(4096)).max(MOST_RECENT),
  areCautionsRead: z.boolean(),
  /** What was open last; null: it was closed. */
  open: standing.nullable().default(null),
  /** What the gig lock holds, also over a restart; null: it is off. */
  gig: standing.nullable().default(null),
})

type Values = z.output<typeof schema>

type Change = (values: Values) => Values

const FRESH: Values = {
  format: FORMAT,
  version: 1,
  recent: [],
  areCautionsRead: false,
  open: null,
  gig: null,
}

/** What the host remembers from one start to the next, in one small file. Losing it costs no show. Two processes may have it: each changes only what it means to. */
export class Settings {
  readonly #folder: string
  readonly #path: string
  readonly #trouble: (message: string) => void
  #values: Values = FRESH
  /** False where a file is in the way that is not ours to replace. */
  #mayWrite = true
  /** Not written yet. */
  readonly #changes: Change[] = []
  /** A write that has not begun takes them all. */
  #isComing = false
  #writing: Promise<void> = Promise.resolve()

  /**
   * Reads what is there; a torn or foreign file is set aside under another name, and we begin anew. Never throws. `trouble` is told what a person should
   * know.
   */
  constructor(folder: string, trouble: (message: string) => void) {
    this.#folder = folder
    this.#path = join(folder, 'host.json')
    this.#trouble = trouble
    try {
      if (!existsSync(this.#path)) return
      const found = statSync(this.#path)
      const raw: unknown = found.size > LARGEST ? undefined : readJson(readFileSync(this.#path, 'utf8'))
      const read = schema.safeParse(raw)
      if (read.success) this.#values = read.data
      else this.#setAside()
    } catch (error) {
      this.#mayWrite = false
      trouble(`${this.#path}: ${fileTrouble(error)}; nothing is remembered this time`)
    }
  }

  /** Shows opened before, latest first, those that are still there before those that are not. */
  get recent(): readonly string[] {
    const { recent } = this.#values
    return [...recent.filter((path) => existsSync(path)), ...recent.filter((path) => !existsSync(path))]
  }

  get areCautionsRead(): boolean {
    return this.#values.areCautionsRead
  }

  /** What was open when the last process ended, or stands as the present one said. */
  get open(): Standing | null {
    return this.#values.open
  }

  get gig(): Standing | null {
    return this.#values.gig
  }

  /** A show was opened or saved there. */
  opened(path: string): void {
    if (this.#values.recent[0] === path) return
    this.#change((values) => ({
      ...values,
      recent: [path, ...values.recent.filter((other) => other !== path)].slice(0, MOST_RECENT),
    }))
  }

  cautionsRead(): void {
    if (!this.#values.areCautionsRead) this.#change((values) => ({ ...values, areCautionsRead: true }))
  }

  /** Where the band is; null: the show was closed as it should be. */
  stands(open: Standing | null): void {
    this.#change((values) => ({ ...values, open }))
  }

  locked(gig: Standing | null): void {
    this.#change((values) => ({ ...values, gig }))
  }

  /** Resolves when all that was remembered is on the disk, or could not be put there. */
  written(): Promise<void> {
    return this.#writing
  }

  #change(change: Change): void {
    this.#values = change(this.#values)
    if (!this.#mayWrite) return
    this.#changes.push(change)
    if (this.#isComing) return
    this.#isComing = true
    this.#writing = this.#writing.then(() => this.#write())
  }

  /** All that was changed until it is written. */
  async #write(): Promise<void> {
    try {
      await mkdir(this.#folder, { recursive: true })
      await inTurn(`${this.#path}.lock`, async () => {
        // Another process may have remembered something meanwhile.
        const there = schema.safeParse(readJson(await readFile(this.#path, 'utf8').catch(() => '')))
        this.#isComing = false
        const changes = [...this.#changes]
        const values = changes.reduce((now, change) => change(now), there.success ? there.data : this.#values)
        await writeWhole(this.#path, `${JSON.stringify(values, null, 2)}\n`, 0o600)
        this.#changes.splice(0, changes.length)
      })
    } catch (error) {
      // They are tried again with the next one.
      this.#isComing = false
      this.#trouble(`${this.#path}: ${fileTrouble(error)}; what is opened now will not be remembered`)
    }
  }

  #setAside(): void {
    let count = 1
    while (existsSync(`${this.#path}.set-aside-${count}`)) count += 1
    const aside = `${this.#path}.set-aside-${count}`
    renameSync(this.#path, aside)
    this.#trouble(`${this.#path} could not be read and was set aside as ${aside}; beginning with none`)
  }
}

function readJson(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}
