import type { Micros } from '../domain/units.ts'
import { boxIdentity, type BoxIdentity, identityDiffers } from './box-identity.ts'
import { everyPlace, unknown } from './link-lamps.ts'
import { giveUp } from './link-unanswered.ts'
import { type Decoded, serialDecoder } from './serial-decoder.ts'
import type { BoxFrame, ReplyStatus } from './serial-frame.ts'
import type { LinkCount, SerialLinkOut } from './serial-link-event.ts'
import { type Flight, LINK_TIMES, OWES_NOTHING, type SerialLinkState } from './serial-link-state.ts'

interface Received {
  readonly state: SerialLinkState
  readonly out: readonly SerialLinkOut[]
}

const COUNTED: Readonly<Record<Exclude<ReplyStatus, 'done'>, LinkCount>> = {
  'no-such-slot': 'no-slot',
  late: 'late',
  refused: 'refused',
}

/** What bytes from the box say. What is no frame of a box is counted and passed over. */
export function receive(state: SerialLinkState, bytes: Uint8Array, now: Micros): Received {
  const { state: decoder, out: decoded } = serialDecoder.step(state.decoder, { kind: 'bytes', bytes }, now)
  let next: SerialLinkState = { ...state, decoder }
  const out: SerialLinkOut[] = []
  for (const one of decoded) {
    const frame = frameOfBox(one)
    const step = frame
      ? receiveFrame(next, frame, now)
      : { state: next, out: [{ kind: 'count', what: 'damaged', sequence: -1 } as const] }
    next = step.state
    out.push(...step.out)
  }
  return { state: next, out }
}

function frameOfBox(decoded: Decoded): BoxFrame | undefined {
  if (decoded.kind === 'damaged') return undefined
  const { frame } = decoded
  return frame.type === 'identity' || frame.type === 'reply' ? frame : undefined
}

function receiveFrame(state: SerialLinkState, frame: BoxFrame, now: Micros): Received {
  const inOrder = state.boxSequence === null || frame.sequence === (state.boxSequence + 1) % 256
  const heard: SerialLinkState = {
    ...state,
    boxSequence: frame.sequence,
    silentAt: now + LINK_TIMES.silence,
    graced: false,
  }
  if (frame.type === 'identity') return receiveIdentity(heard, boxIdentity(frame), now)
  if (heard.phase !== 'ready') return { state: heard, out: [] }
  // Frames of the box were lost on the way, or it began anew: what it has is not known. Not at once, so that a box that
  // never counts right is not answered with a full state each time.
  const full = heard.owes.full || !inOrder
  return receiveReply({ ...heard, owes: { ...heard.owes, full } }, frame, now)
}

/**
 * The box says who it is: because we asked, or because it began anew. Either way it gets the full state. Where several hellos reached it late,
 * it is sent again for each, as a box may have gone dark at each.
 */
function receiveIdentity(state: SerialLinkState, identity: BoxIdentity, now: Micros): Received {
  const { lamps } = state
  const missing = lamps.filter(({ slot }) => slot >= identity.lamps).map(({ slot }) => slot)
  const known = {
    ...unknown(state, everyPlace(state)),
    identity,
    alone: [],
    owes: { ...state.owes, full: false },
  }
  const said: SerialLinkOut = {
    kind: 'identity',
    identity,
    differs: identityDiffers(identity, state.output.timer, missing),
    missing,
  }
  if (state.phase === 'ready') {
    const isSame = JSON.stringify(state.identity) === JSON.stringify(identity)
    return { state: known, out: isSame ? [] : [said] }
  }
  return {
    state: {
      ...known,
      phase: 'ready',
      owes: { ...OWES_NOTHING, dark: state.owes.dark, beat: true },
      beatAt: now + LINK_TIMES.beat,
      answeredAt: now,
    },
    out: [said, { kind: 'state', state: 'ready' }],
  }
}

function receiveReply(
  state: SerialLinkState,
  { answers, status }: Extract<BoxFrame, { type: 'reply' }>,
  now: Micros,
): Received {
  const at = state.flights.findIndex(({ sequence }) => sequence === answers)
  const flight = state.flights[at]
  if (!flight) return { state, out: [] }
  // From the one to the other no other may have reached the box, and it may have gone dark meanwhile.
  const full = state.owes.full || now - state.answeredAt >= LINK_TIMES.watchdog
  const awake = { ...state, answeredAt: flight.sentAt, owes: { ...state.owes, full } }
  // A line keeps its order, so what went before and is not answered never will be.
  const before = giveUp({ ...awake, flights: state.flights.slice(at + 1) }, state.flights.slice(0, at))
  const out: SerialLinkOut[] = [...before.out, { kind: 'latency', micros: now - flight.sentAt }]
  if (status === 'done') return { state: before.state, out }
  out.push({ kind: 'count', what: COUNTED[status], sequence: answers })
  return { state: status === 'late' ? before.state : refused(before.state, flight), out }
}

/**
 * A box may refuse a frame for one lamp of it, and take none: then each goes once more, alone. A lamp refused alone stays as the box has it until it
 * changes.
 */
function refused(state: SerialLinkState, { places }: Flight): SerialLinkState {
  if (places.length < 2) return state
  return { ...state, alone: [...new Set([...state.alone, ...places])] }
}
