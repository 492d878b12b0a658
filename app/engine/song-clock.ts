import type { SongId } from '../../src/domain/ids.ts'
import type { Show } from '../../src/domain/show.ts'
import type { Micros } from '../../src/domain/units.ts'
import type { SongTimeNow } from '../../src/time/song-time.ts'
import { ClockSender } from './clock-sender.ts'

export interface SongClockOptions {
  readonly show: Show
  readonly now: () => Micros
  /** One message to a port that is sent a clock, by its place in `ports`. */
  readonly send: (port: number, bytes: Uint8Array) => void
}

/** What the beats of songs do, as other machines are told of it by MIDI clock: a song begins, all stands still over a sleep, and goes on. */
export class SongClock {
  /** The ports that are sent a clock, each once. */
  readonly ports: readonly string[]
  /** Makes each message; the clock that is followed is passed on through it (`pass`). */
  readonly sender: ClockSender
  readonly #now: () => Micros
  #show: Show

  constructor({ show, now, send }: SongClockOptions) {
    this.#show = show
    this.#now = now
    this.ports = [...new Set(show.clock.send)]
    this.sender = new ClockSender({
      ports: this.ports.length,
      follows: show.clock.follow !== undefined,
      send,
    })
  }

  /** The show edited; the ports are what they were. */
  revise(show: Show): void {
    this.#show = show
  }

  /** A song's beat 0 is at `at`. */
  begin(id: SongId, at: Micros): void {
    const song = this.#show.songs.find((one) => one.id === id)
    if (!song) return
    this.sender.tell({ kind: 'start', tempo: song.tempo, bar: song.beats }, at)
  }

  /** The song's own beats go otherwise than before. */
  retime({ clock, isFollowed }: SongTimeNow, at: Micros): void {
    if (!isFollowed) this.sender.tell({ kind: 'beats', beats: clock.beats, tempo: clock.tempo }, at)
  }

  /** The machine sleeps; `since`: it has done so since then, and nobody said so. */
  sleep(since?: Micros): void {
    this.sender.tell({ kind: 'stop', ...(since === undefined ? {} : { since }) }, this.#now())
  }

  /** Whether such a port listens. */
  port(port: number, isThere: boolean): void {
    this.sender.tell({ kind: isThere ? 'found' : 'lost', port }, this.#now())
  }
}
