import { closeSync, openSync, renameSync, rmSync, writeSync } from 'node:fs'

const BUFFER = 1 << 16

/** A file that has its name only once it is whole: until then it is beside it, as `NAME.part`. */
export class PartFile {
  readonly path: string
  readonly #part: string
  readonly #file: number
  #buffer: Uint8Array[] = []
  #held = 0
  #isOpen = true

  constructor(path: string) {
    this.path = path
    this.#part = `${path}.part`
    this.#file = openSync(this.#part, 'w')
  }

  write(bytes: Uint8Array): void {
    this.#buffer.push(bytes)
    this.#held += bytes.length
    if (this.#held >= BUFFER) this.#flush()
  }

  /** Over what is at the beginning. */
  rewrite(bytes: Uint8Array): void {
    this.#flush()
    writeWhole(this.#file, bytes, 0)
  }

  /** Whole: from now on it has its name. */
  finish(): void {
    this.#flush()
    this.#close()
    renameSync(this.#part, this.path)
  }

  /** Not to be: leaves what had the name before. One that is finished stays. */
  drop(): void {
    this.#close()
    rmSync(this.#part, { force: true })
  }

  #close(): void {
    if (!this.#isOpen) return
    this.#isOpen = false
    closeSync(this.#file)
  }

  #flush(): void {
    for (const bytes of this.#buffer) writeWhole(this.#file, bytes, null)
    this.#buffer = []
    this.#held = 0
  }
}

function writeWhole(file: number, bytes: Uint8Array, at: number | null): void {
  for (let done = 0; done < bytes.length;) {
    done += writeSync(file, bytes, done, bytes.length - done, at === null ? null : at + done)
  }
}
