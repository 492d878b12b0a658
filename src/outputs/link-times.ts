import type { Micros } from '../domain/units.ts'
import { everyPlace, unknown } from './link-lamps.ts'
import { giveUp } from './link-unanswered.ts'
import type { SerialLinkOut } from './serial-link-event.ts'
import { type Flight, LINK_TIMES, type SerialLinkState } from './serial-link-state.ts'

interface Timed {
  readonly state: SerialLinkState
  readonly out: readonly SerialLinkOut[]
}

/** A byte on the line is a start bit, eight bits and a stop bit. */
const BITS_A_BYTE = 10

/** The first `frames` frames at the port have left: their replies are due a while after the line has carried them. */
export function haveLeft(state: SerialLinkState, frames: number, now: Micros): SerialLinkState {
  let { lineFree } = state
  const due = new Map<number, Micros>()
  for (const { sequence, bytes } of state.atPort.slice(0, frames)) {
    lineFree = Math.max(lineFree, now) + Math.ceil((bytes * BITS_A_BYTE * 1_000_000) / state.output.baud)
    due.set(sequence, lineFree + LINK_TIMES.reply)
  }
  const flights = state.flights.map((flight): Flight =>
    flight.due === null ? { ...flight, due: due.get(flight.sequence) ?? null } : flight,
  )
  return { ...state, atPort: state.atPort.slice(frames), flights, lineFree }
}

/** What is due by now. */
export function onTime(state: SerialLinkState, now: Micros): Timed {
  if (!state.open) return { state, out: [] }
  if (state.phase !== 'ready') return { state: helloAgain(state, now), out: [] }
  const patient = withGrace(state, now)
  if (patient.silentAt <= now) {
    const lost = { ...patient, phase: 'lost', flights: [], alone: [], helloAt: now } as const
    return { state: helloAgain(lost, now), out: [{ kind: 'state', state: 'lost' }] }
  }
  const missing = patient.flights.filter(({ due }) => due !== null && due <= now)
  const waiting = patient.flights.filter((flight) => !missing.includes(flight))
  const { state: next, out } = giveUp({ ...patient, flights: waiting }, missing)
  if (next.beatAt > now) return { state: next, out }
  // After being held up beats go on from now: those missed are of no use any more.
  const beatAt = next.beatAt + LINK_TIMES.beat > now ? next.beatAt + LINK_TIMES.beat : now + LINK_TIMES.beat
  const known = next.owes.full ? unknown(next, everyPlace(next)) : next
  return { state: { ...known, beatAt, owes: { ...known.owes, beat: true, full: false } }, out }
}

/** The next time at which something is due; always later than `now`. */
export function nextTime(state: SerialLinkState, now: Micros): Micros | undefined {
  if (!state.open) return undefined
  const times =
    state.phase === 'ready'
      ? [state.silentAt, state.beatAt, ...state.flights.flatMap(({ due }) => (due === null ? [] : [due]))]
      : [state.helloAt]
  return Math.max(now + 1, Math.min(...times))
}

function helloAgain(state: SerialLinkState, now: Micros): SerialLinkState {
  if (state.helloAt > now) return state
  // A box may hear us although we do not hear it. Hello keeps it awake, so its lamps are darkened too.
  return { ...state, helloAt: now + LINK_TIMES.hello, owes: { ...state.owes, hello: true, dark: true } }
}

/** When we were held up ourselves, the box is given a little longer, once. */
function withGrace(state: SerialLinkState, now: Micros): SerialLinkState {
  const heldUp = state.wakeAt !== null && now - state.wakeAt > LINK_TIMES.heldUp
  if (!heldUp || state.graced) return state
  return { ...state, graced: true, silentAt: Math.max(state.silentAt, now + LINK_TIMES.grace) }
}
