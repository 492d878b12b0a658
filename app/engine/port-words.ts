import type { PortStatus } from '../../src/contract/from-engine.ts'
import type { PortEvent } from './ports/port-event.ts'
import type { SerialDriverEvent } from './ports/serial-driver-event.ts'

/** How a MIDI port stands after what happened to it, and what to say of it. */
export function portState(event: PortEvent): Pick<PortStatus, 'state' | 'message'> {
  switch (event.kind) {
    case 'opened':
      return { state: 'open', message: `${event.name} is open` }
    case 'returned':
      return { state: 'open', message: `${event.name} is back` }
    case 'ambiguous':
      return {
        state: 'ambiguous',
        message: `${event.question} ${event.places.map((place, index) => `${place}: ${event.names[index]}`).join(', ')}`,
      }
    case 'lost':
    case 'missing':
    case 'busy':
    case 'unavailable':
      return { state: event.kind, message: event.message }
  }
}

/** The same of a serial port that could not be opened. */
export function notOpenState(
  fault: Extract<SerialDriverEvent, { kind: 'not-open' }>['fault'],
): PortStatus['state'] {
  switch (fault) {
    case 'absent':
      return 'missing'
    case 'busy':
      return 'busy'
    case 'ambiguous':
      return 'ambiguous'
    case 'permission':
    case 'failed':
      return 'unavailable'
  }
}
