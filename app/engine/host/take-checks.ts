import type { Show } from '../../../src/domain/show.ts'
import { countTake } from '../../../src/offline/gig-check/count-take.ts'
import type { GigCheck } from '../../../src/offline/gig-check/gig-check.ts'
import { gigCheck } from '../../../src/offline/gig-check/gig-check.ts'
import type { TakeResult } from '../../../src/offline/gig-check/take-result.ts'
import { readTakeFile } from './take-file.ts'

/** What is counted: a show as it stands at that revision, and the folder of its file; undefined: it has none. */
export interface CountedShow {
  readonly revision: number
  readonly show: Show
  readonly folder: string | undefined
}

/** Takes done and to be done. */
export type Counting = (done: number, of: number) => void

interface Job {
  readonly counted: CountedShow
  readonly progress: Set<Counting>
  readonly result: Promise<GigCheck | undefined>
  isGivenUp: boolean
}

/** Milliseconds: so long it counts, then so long it lets everybody else. Whoever presses Dark on a screen waits no longer than the first. */
const WORKS_MS = 8
const RESTS_MS = 4

/** Plays the takes of the show that is open through and counts, a little at a time: the process that does it also hands on what people play. */
export class TakeChecks {
  #job: Job | undefined
  #last: { readonly counted: CountedShow; readonly gig: GigCheck } | undefined

  /** Counts, or waits with whoever asked before for the same. Undefined: given up, since the show is another by now. Never rejects. */
  async count(counted: CountedShow, progress: Counting = () => {}): Promise<GigCheck | undefined> {
    this.isAbout(counted)
    const job = this.#job ?? this.#begin(counted)
    job.progress.add(progress)
    return job.result
  }

  /** The last count of it, where there is one; else a new one. */
  async last(counted: CountedShow): Promise<GigCheck | undefined> {
    if (this.#last && isSame(this.#last.counted, counted)) return this.#last.gig
    return this.count(counted)
  }

  /** That is the show now: counting one of before is given up. `undefined`: none is counted any more. */
  isAbout(counted: CountedShow | undefined): void {
    if (!this.#job || (counted && isSame(this.#job.counted, counted))) return
    this.#job.isGivenUp = true
    this.#job = undefined
  }

  #begin(counted: CountedShow): Job {
    const job: Job = {
      counted,
      progress: new Set(),
      // It begins in the next turn, when whoever asked is among those who hear of it.
      result: rest(0).then(() => this.#work(job)),
      isGivenUp: false,
    }
    this.#job = job
    return job
  }

  async #work(job: Job): Promise<GigCheck | undefined> {
    const { show, folder } = job.counted
    const wanted = show.songs.flatMap((song) => song.takes.map((take) => ({ song, take })))
    const results: TakeResult[] = []
    for (const { song, take } of wanted) {
      if (job.isGivenUp) return undefined
      for (const progress of job.progress) progress(results.length, wanted.length)
      const file = await readTakeFile(folder, take)
      const result = file.ok
        ? await inPieces(countTake(show, song, take, file.bytes), () => job.isGivenUp)
        : { ok: false as const, song: song.id, take, why: file.why }
      if (!result) return undefined
      results.push(result)
    }
    if (job.isGivenUp) return undefined
    const gig = gigCheck(show, results)
    this.#last = { counted: job.counted, gig }
    this.#job = undefined
    return gig
  }
}

function isSame(one: CountedShow, other: CountedShow): boolean {
  return one.revision === other.revision && one.folder === other.folder
}

async function inPieces<T>(
  pieces: Generator<number, T, void>,
  isGivenUp: () => boolean,
): Promise<T | undefined> {
  for (;;) {
    const until = performance.now() + WORKS_MS
    do {
      const { done, value } = pieces.next()
      if (done === true) return value
    } while (performance.now() < until)
    await rest(RESTS_MS)
    if (!isGivenUp()) continue
    pieces.return(undefined as T)
    return undefined
  }
}

function rest(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms))
}
