/** What a song's beats go by, who is told of them, and what happens to them while the machine sleeps. */
export interface ClockSettings {
  /** The MIDI input whose clock is followed, as the system names the port; absent: songs have the tempo they say. */
  readonly follow?: string | undefined
  /** The MIDI outputs that are sent a clock, as the system names the ports. */
  readonly send: readonly string[]
  /** Once the machine is awake again: beats stand still until something starts them, or go on from where they stood. */
  readonly afterSleep: 'stop' | 'go-on'
}
