import type { Micros } from '../domain/units.ts'
import { encodeFrame } from './frame-wire.ts'
import { dirtyPlaces, everyPlace, sent } from './link-lamps.ts'
import { type HostFrame, MAX_LAMPS_A_SET, SERIAL_VERSION } from './serial-frame.ts'
import type { SerialLinkOut } from './serial-link-event.ts'
import { MOST_SETS_IN_FLIGHT, type SerialLinkState } from './serial-link-state.ts'

interface Sent {
  readonly state: SerialLinkState
  readonly out: readonly SerialLinkOut[]
}

/**
 * What goes to the port now. Dark goes at once. All else waits until the port has nothing of ours left, so that nothing
 * stands between a dark frame and the wire but the one frame that is leaving, and the port never holds more than two.
 */
export function sendNext(state: SerialLinkState, now: Micros): Sent {
  if (!state.open) return { state, out: [] }
  const dark = sendDark(state, now)
  const next = dark.state.atPort.length === 0 ? sendOther(dark.state, now) : { state: dark.state, out: [] }
  return { state: next.state, out: [...dark.out, ...next.out] }
}

function sendDark(state: SerialLinkState, now: Micros): Sent {
  if (!state.owes.dark) return { state, out: [] }
  const paid = { ...state, owes: { ...state.owes, dark: false } }
  // One that waits in the port already does it: nothing that lights a lamp can have gone behind it.
  if (state.atPort.some(({ type }) => type === 'dark')) return { state: paid, out: [] }
  const places = everyPlace(paid)
  // Earlier dark frames say the same: only this one is waited for.
  const flights = paid.flights.filter(({ type }) => type !== 'dark')
  return send(sent({ ...paid, flights }, places), { type: 'dark', sequence: paid.sequence }, places, now)
}

function sendOther(state: SerialLinkState, now: Micros): Sent {
  if (state.owes.hello) {
    const paid = { ...state, owes: { ...state.owes, hello: false } }
    return send(paid, { type: 'hello', sequence: state.sequence, version: SERIAL_VERSION }, [], now)
  }
  if (state.phase !== 'ready') return { state, out: [] }
  const set = sendSet(state, now)
  if (set) return set
  if (!state.owes.beat) return { state, out: [] }
  const paid = { ...state, owes: { ...state.owes, beat: false } }
  return send(paid, { type: 'beat', sequence: state.sequence, micros: now % 2 ** 32 }, [], now)
}

/** As many lamps as go into one frame, those going dark first, so that a supply sees the drop before the rise. */
function sendSet(state: SerialLinkState, now: Micros): Sent | undefined {
  if (state.flights.filter(({ type }) => type === 'set').length >= MOST_SETS_IN_FLIGHT) return undefined
  const dirty = dirtyPlaces(state)
  const [first, ...others] = state.alone
  // Lamps that go alone and lamps that go together take turns.
  if (first !== undefined && (dirty.length === 0 || state.sequence % 2 === 0)) {
    return sendPlaces({ ...state, alone: others }, [first], now)
  }
  if (dirty.length === 0) return undefined
  const isDark = (place: number) => state.lamps[place]?.rate === 0
  const chosen = [...dirty.filter(isDark), ...dirty.filter((place) => !isDark(place))].slice(
    0,
    MAX_LAMPS_A_SET,
  )
  const left = chosen.length < dirty.length
  return sendPlaces({ ...state, from: left ? (chosen.at(-1) ?? 0) + 1 : 0 }, chosen, now)
}

function sendPlaces(state: SerialLinkState, places: readonly number[], now: Micros): Sent {
  const lamps = places.flatMap((place) => {
    const lamp = state.lamps[place]
    return lamp ? [{ slot: lamp.slot, rate: lamp.rate, duty: lamp.duty }] : []
  })
  return send(sent(state, places), { type: 'set', sequence: state.sequence, at: 0, lamps }, places, now)
}

function send(state: SerialLinkState, frame: HostFrame, places: readonly number[], now: Micros): Sent {
  const bytes = encodeFrame(frame)
  const { type, sequence } = frame
  // Hello is answered by an identity, not by a reply; and nobody waits for a box that has not said who it is.
  const answered = type !== 'hello' && state.phase === 'ready'
  return {
    state: {
      ...state,
      sequence: (sequence + 1) % 256,
      atPort: [...state.atPort, { sequence, type, bytes: bytes.length }],
      flights: answered
        ? [...state.flights, { sequence, type, places, sentAt: now, due: null }]
        : state.flights,
    },
    out: [{ kind: 'write', bytes, urgent: type === 'dark' }],
  }
}
