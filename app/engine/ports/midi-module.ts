import { createRequire } from 'node:module'

/** What is used of an input of `@julusian/midi`. */
export interface NativeInput {
  getPortCount(): number
  getPortName(place: number): string
  openPort(place: number): void
  openVirtualPort(name: string): void
  ignoreTypes(sysex: boolean, timing: boolean, activeSensing: boolean): void
  on(event: 'messageBuffer', heard: (delta: number, bytes: Uint8Array) => void): unknown
  removeAllListeners(): unknown
  destroy(): void
}

/** What is used of an output of `@julusian/midi`. */
export interface NativeOutput {
  getPortCount(): number
  getPortName(place: number): string
  openPort(place: number): void
  openVirtualPort(name: string): void
  sendMessage(bytes: Buffer): void
  destroy(): void
}

export interface MidiModule {
  readonly Input: new () => NativeInput
  readonly Output: new () => NativeOutput
}

/** May throw anything: the native part may be missing for this machine. */
export type MidiLoader = () => MidiModule

/** The variable that names another build of the module to load: a folder or file. For tests, and for unusual systems (JACK only). */
export const MIDI_MODULE_VARIABLE = 'LANTHORN_MIDI_MODULE'

/**
 * Loads `@julusian/midi`, or the build that `LANTHORN_MIDI_MODULE` names, on first use only: its native part opens libraries that not
 * every machine has.
 */
export const loadMidiModule: MidiLoader = () => {
  const require = createRequire(import.meta.url)
  const other = process.env[MIDI_MODULE_VARIABLE]
  return (other === undefined || other === '' ? require('@julusian/midi') : require(other)) as MidiModule
}
