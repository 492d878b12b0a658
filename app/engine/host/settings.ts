import { existsSync, readFileSync, renameSync, statSync } from 'node:fs'
import { mkdir } from 'node:fs/promises'
import { join } from 'node:path'
import { z } from 'zod'
import { writeWhole } from './atomic-file.ts'
import { fileTrouble } from './file-trouble.ts'

const FORMAT = 'lanthorn-host'
const MOST_RECENT = 10
/** Bytes; anything larger is not ours. */
const LARGEST = 1_000_000

const schema = z.strictObject({
  format: z.literal(FORMAT),
  version: z.literal(1),
  /** Absolute paths, latest first. */
  recent: z.array(z.string().min(1).max(4096)).max(MOST_RECENT),
  areCautionsRead: z.boolean(),
})

type Values = z.output<typeof schema>

const FRESH: Values = { format: FORMAT, version: 1, recent: [], areCautionsRead: false }

/** What the host remembers from one start to the next, in one small file. Losing it costs no show. */
export class Settings {
  readonly #folder: string
  readonly #path: string
  readonly #trouble: (message: string) => void
  #values: Values = FRESH
  /** False where a file is in the way that is not ours to replace. */
  #mayWrite = true
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

  /** A show was opened or saved there. */
  opened(path: string): void {
    const recent = [path, ...this.#values.recent.filter((other) => other !== path)].slice(0, MOST_RECENT)
    this.#change({ recent })
  }

  cautionsRead(): void {
    if (!this.#values.areCautionsRead) this.#change({ areCautionsRead: true })
  }

  /** Resolves when all that was remembered is on the disk, or could not be put there. */
  written(): Promise<void> {
    return this.#writing
  }

  #change(change: Partial<Values>): void {
    this.#values = { ...this.#values, ...change }
    if (!this.#mayWrite) return
    const text = `${JSON.stringify(this.#values, null, 2)}\n`
    this.#writing = this.#writing.then(() => this.#write(text))
  }

  async #write(text: string): Promise<void> {
    try {
      await mkdir(this.#folder, { recursive: true })
      await writeWhole(this.#path, text, 0o600)
    } catch (error) {
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
