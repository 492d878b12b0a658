import type { FromEngine } from '../../src/contract/from-engine.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import type { Micros } from '../../src/domain/units.ts'
import { beatAt } from '../../src/time/beat-clock.ts'
import type { SongTimeNow } from '../../src/time/song-time.ts'

type TimeWord = Extract<FromEngine, { type: 'time' }>

/** A clock that stands just before a beat is not at it yet, and one that came to it by sums of fractions is. */
const ALMOST = 1e-6

/** How the song's beats go, to be told when that changes and with each beat. */
export class TimeWatch {
  #last = ''

  /** Undefined where it is as it was told last. */
  news(time: SongTimeNow, now: Micros): TimeWord | undefined {
    const { clock, isFollowed, isRunning, isQuiet } = time
    const beat = Math.floor(beatAt(clock, now) + ALMOST)
    // An estimate is never quite the same twice.
    const tempo = isFollowed ? Math.round(time.tempo * 10) / 10 : time.tempo
    const word = { beat, tempo, isFollowed, isRunning, isQuiet }
    const text = JSON.stringify(word)
    if (text === this.#last) return undefined
    this.#last = text
    return { v: CONTRACT_VERSION, type: 'time', at: now, ...word }
  }
}
