import type { Stage, Step } from '../domain/stage.ts'
import type { Micros } from '../domain/units.ts'
import { allDark, everyPlace, unknown, withChanges } from './link-lamps.ts'
import { receive } from './link-receive.ts'
import { sendNext } from './link-send.ts'
import { haveLeft, nextTime, onTime } from './link-times.ts'
import { serialDecoder } from './serial-decoder.ts'
import type { SerialLinkConfig, SerialLinkEvent, SerialLinkOut } from './serial-link-event.ts'
import { LINK_TIMES, OWES_NOTHING, type SerialLinkState, startLink } from './serial-link-state.ts'

/**
 * The host's side of a live line to a lamp box, frames version 1. It greets the box until that says who it is, gives it the full state, and
 * then what changes: at most two set frames without a reply, and meanwhile the newest state of each lamp waits. A frame
 * without a reply is sent again as its lamps then are. A box that is silent is lost, greeted anew, and given the full
 * state once more. After a sleep all is dark. The state is bounded, whatever the box sends.
 */
export const serialLink: Stage<SerialLinkConfig, SerialLinkState, SerialLinkEvent, SerialLinkOut> = {
  name: 'serial-link',

  start: startLink,

  step(state, event, now) {
    const told = tell(hasSlept(state, now) ? darkened(state) : state, event, now)
    const timed = onTime(told.state, now)
    const next = sendNext(timed.state, now)
    return finish(next.state, [...told.out, ...timed.out, ...next.out], now)
  },
}

function finish(
  state: SerialLinkState,
  out: readonly SerialLinkOut[],
  now: Micros,
): Step<SerialLinkState, SerialLinkOut> {
  const wake = nextTime(state, now)
  return { state: { ...state, wakeAt: wake ?? null }, out, wake }
}

function tell(
  state: SerialLinkState,
  event: SerialLinkEvent,
  now: Micros,
): { readonly state: SerialLinkState; readonly out: readonly SerialLinkOut[] } {
  switch (event.kind) {
    case 'open':
      return {
        state: {
          ...emptied(state),
          phase: 'greeting',
          open: true,
          closing: false,
          // A host before us may have left lamps lit, and hello keeps a box awake.
          owes: { ...OWES_NOTHING, hello: true, dark: true },
          helloAt: now + LINK_TIMES.hello,
        },
        out: [{ kind: 'state', state: 'greeting' }],
      }
    case 'closed': {
      if (!state.open) return { state, out: [] }
      const phase = state.phase === 'ready' || state.phase === 'lost' ? 'lost' : 'waiting'
      return {
        state: { ...emptied(state), phase, open: false },
        out: state.phase === phase ? [] : [{ kind: 'state', state: phase }],
      }
    }
    case 'bytes':
      return state.open ? receive(state, event.bytes, now) : { state, out: [] }
    case 'wrote':
      return { state: haveLeft(state, event.frames, now), out: [] }
    case 'changes':
      return { state: state.closing ? state : withChanges(state, event.changes), out: [] }
    case 'dark-all':
      return { state: darkened(state), out: [] }
    case 'close':
      return { state: { ...darkened(state), closing: true }, out: [] }
    case 'wake':
      return { state, out: [] }
  }
}

/** Before what came in meanwhile is heard: a reply that lay there would have the lamps lit again. */
function hasSlept({ wakeAt }: SerialLinkState, now: Micros): boolean {
  return wakeAt !== null && now - wakeAt > LINK_TIMES.slept
}

function darkened(state: SerialLinkState): SerialLinkState {
  return allDark({ ...state, owes: { ...state.owes, dark: state.open } })
}

/** Nothing is on its way, and nothing is known of the box. */
function emptied(state: SerialLinkState): SerialLinkState {
  return {
    ...unknown(state, everyPlace(state)),
    atPort: [],
    flights: [],
    alone: [],
    owes: OWES_NOTHING,
    lineFree: 0,
    boxSequence: null,
    graced: false,
    decoder: serialDecoder.start({ maxBlock: state.decoder.maxBlock }),
  }
}
