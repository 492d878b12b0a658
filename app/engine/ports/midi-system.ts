/** From a port into Lanthorn. */
export interface MidiInputPort {
  readonly name: string
  /** Nothing is heard after this, not even what was already on its way. May be called twice, and from within `heard`. */
  close(): void
}

/** From Lanthorn to a port. */
export interface MidiOutputPort {
  readonly name: string
  /** One whole message (or whole system exclusive). Throws `MidiError` `gone` when the port is closed or broken. */
  send(bytes: Uint8Array): void
  /** What was sent before still leaves. May be called twice. */
  close(): void
}

/** Bytes of one message, a copy that may be kept. Long system exclusive may come in pieces. */
export type Heard = (bytes: Uint8Array) => void

/**
 * The MIDI ports of a machine. Each call may throw a `MidiError`, and nothing else.
 *
 * A *place* is a port's number, from 0, in the list last returned by `inputs()` or `outputs()`. Ports that this system made itself
 * (virtual ones, and the hidden ends that some systems show for every open port) are in neither list.
 */
export interface MidiSystem {
  inputs(): readonly string[]
  outputs(): readonly string[]
  openInput(place: number, heard: Heard): MidiInputPort
  openOutput(place: number): MidiOutputPort
  /** A port of our own that other programs send to. Absent where the system has none. */
  openVirtualInput?(name: string, heard: Heard): MidiInputPort
  /** A port of our own that other programs listen to. Absent where the system has none. */
  openVirtualOutput?(name: string): MidiOutputPort
  /** Closes every port that is still open; the system cannot be used after it. */
  close(): void
}

export type PortWay = 'input' | 'output'
