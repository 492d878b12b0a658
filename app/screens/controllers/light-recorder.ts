import type { ReactiveController, ReactiveControllerHost } from 'lit'
import type { HouseView } from './house-view.ts'
import type { LightHistory } from './light-history.ts'
import { lightSeen, NO_LIGHT_YET } from './light-history.ts'

/** Keeps the history of the playing song's light as the views tell it, and what time it is at the engine between two views. */
export class LightRecorder implements ReactiveController {
  readonly #element: ReactiveControllerHost
  readonly #everyMs: number
  #history: LightHistory = NO_LIGHT_YET
  #lamps: HouseView['lamps'] | undefined
  #song: string | undefined
  /** Engine time less the page's, microseconds. */
  #ahead = 0
  #timer: ReturnType<typeof setInterval> | undefined

  /** Asks the element for an update every so many milliseconds while a lamp is lit. */
  constructor(element: ReactiveControllerHost, everyMs: number) {
    this.#element = element
    this.#everyMs = everyMs
    element.addController(this)
  }

  hostConnected(): void {
    this.#timer = setInterval(() => {
      if (this.#history.spans.some(({ until }) => until === null)) this.#element.requestUpdate()
    }, this.#everyMs)
  }

  hostDisconnected(): void {
    clearInterval(this.#timer)
  }

  get history(): LightHistory {
    return this.#history
  }

  /** Engine time, microseconds, as far as it can be told. */
  get now(): number {
    return Math.max(this.#history.at, Math.round(performance.now() * 1_000 + this.#ahead))
  }

  /** To be told each view. Another song, or another engine, begins a new history. */
  see(view: HouseView): void {
    if (view.song?.song !== this.#song) {
      this.#song = view.song?.song
      this.#history = { ...NO_LIGHT_YET, at: this.#history.at }
    }
    if (view.lamps === this.#lamps || view.lamps.size === 0) return
    this.#lamps = view.lamps
    this.#ahead = view.lampsAt - performance.now() * 1_000
    this.#history = lightSeen(this.#history, view.lamps, view.lampsAt)
  }
}
