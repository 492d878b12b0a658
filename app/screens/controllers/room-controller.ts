import type { ReactiveController, ReactiveControllerHost } from 'lit'

/** The rooms in the order of the rail; `start` is the first start, which is not on it. */
export const ROOMS = ['stage', 'songs', 'sheet', 'steps', 'tuning', 'rig', 'checks', 'monitor'] as const
export type Room = (typeof ROOMS)[number] | 'start'

/** Which room is shown: the word after the hash of the address, so that back, forward and reload keep it. */
export class RoomController implements ReactiveController {
  readonly #element: ReactiveControllerHost
  readonly #changed = (): void => this.#element.requestUpdate()

  constructor(element: ReactiveControllerHost) {
    this.#element = element
    element.addController(this)
  }

  get room(): Room {
    const word = location.hash.slice(1).split(/[/&]/)[0]
    return [...ROOMS, 'start' as const].find((room) => room === word) ?? 'stage'
  }

  /** What stands after the room, as `tide/lead` in `#sheet/tide/lead`. */
  get rest(): readonly string[] {
    return location.hash.slice(1).split('/').slice(1).map(decodeURIComponent)
  }

  hostConnected(): void {
    window.addEventListener('hashchange', this.#changed)
  }

  hostDisconnected(): void {
    window.removeEventListener('hashchange', this.#changed)
  }
}

/** The address of a room, with what is to be shown there. */
export function roomHref(room: Room, ...rest: readonly string[]): string {
  return `#${[room, ...rest.map(encodeURIComponent)].join('/')}`
}
