import type { FileWarning } from './file.ts'

/** Distinct warnings kept; a file of noise must not fill the memory with complaints about it. */
const MOST = 200

/** Gathers warnings while a file is read; the same one in the same track is counted, not repeated. */
export class WarningList {
  private readonly seen = new Map<string, FileWarning>()
  private beyond = 0

  /** `key` tells apart what counts as the same; `what` may then name the first one's details. */
  add(track: number, offset: number, what: string, done: string, key: string = what): void {
    const id = `${track} ${key}`
    const before = this.seen.get(id)
    if (before !== undefined) this.seen.set(id, { ...before, times: before.times + 1 })
    else if (this.seen.size < MOST) this.seen.set(id, { track, offset, what, done, times: 1 })
    else this.beyond++
  }

  list(): FileWarning[] {
    const all = [...this.seen.values()]
    if (this.beyond > 0) {
      const what = `${this.beyond} more warnings`
      all.push({ track: 0, offset: 0, what, done: 'not listed', times: 1 })
    }
    return all
  }
}
