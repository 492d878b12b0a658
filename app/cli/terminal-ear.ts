import type { FromHost } from '../../src/contract/from-host.ts'
import type { Channel } from '../engine/channel.ts'

/** A screen that is a terminal: it hears what all screens hear, and says what is a fault, and why lamps that were wanted are not lit. */
export function createTerminalEar({
  wantsReal,
  say,
}: {
  /** Whether the rig's own lamps were asked for. */
  readonly wantsReal: boolean
  readonly say: (line: string) => void
}): Channel {
  let hasSaidRig = false
  const hear = (message: FromHost): void => {
    switch (message.type) {
      case 'show':
        if (wantsReal && message.rig === 'virtual' && !hasSaidRig) {
          say(
            'Lamps are in memory for now: the real ones are lit once the cautions have been read, on a screen.',
          )
        }
        hasSaidRig = true
        return
      case 'load-failed':
        return say(message.message)
      case 'diagnostic': {
        const { level, source, code, message: text } = message.diagnostic
        // What could not be opened is told on standard error.
        if (level === 'fault' && code !== 'not-opened') say(`fault: ${source}: ${text}`)
        return
      }
      default:
        return
    }
  }
  return {
    // It is the host's own words that come, in the host's own process.
    send: (message) => hear(message as FromHost),
    receive: () => {},
    closed: () => {},
  }
}
