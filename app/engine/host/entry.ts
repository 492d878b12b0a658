/** `window`: the desktop app. `browser`: on this machine. `remote`: another device. */
export type Place = 'window' | 'browser' | 'remote'

/** How a screen was let in; whoever attaches it has seen to its key or code before. */
export interface Entry {
  readonly place: Place
  /** What it may enter with again; told in its welcome. */
  readonly key: string
}

/** Where other devices find this host, as its door for them knows it. */
export interface RemoteDoor {
  readonly addresses: readonly string[]
  /** Lets the next one in. */
  readonly code: string
  /** Devices that are in. */
  readonly screens: number
  /** Turned away since the start. */
  readonly refused: number
}
