import type { LampIndex } from '../domain/ids.ts'
import type { SerialOutput } from '../domain/rig.ts'
import { type Micros, MICROS_PER_MS } from '../domain/units.ts'
import { type BoxIdentity, MOST_SLOTS } from './box-identity.ts'
import { bySlot, type Places, placesOf } from './changes-by-slot.ts'
import { serialDecoder, type SerialDecoderState } from './serial-decoder.ts'
import { type HostFrame, SERIAL_VERSION } from './serial-frame.ts'
import type { LinkState, SerialLinkConfig } from './serial-link-event.ts'

/** How long the link waits for what. */
export const LINK_TIMES = {
  /** From one hello to the next, until the box says who it is: a board may be deaf for seconds after its port opens. */
  hello: 250 * MICROS_PER_MS,
  beat: 100 * MICROS_PER_MS,
  /** For a reply, once the frame has left and has had its time on the wire. */
  reply: 150 * MICROS_PER_MS,
  /** Without anything from the box, until it counts as lost. */
  silence: 700 * MICROS_PER_MS,
  /** A box goes dark by itself after so long without a frame, until the next set. */
  watchdog: 500 * MICROS_PER_MS,
  /** A wake later than this says that we were held up ourselves, and what the box sent may still wait to be read. */
  heldUp: 50 * MICROS_PER_MS,
  /** A wake later than this says that the machine slept: nothing lights up again by itself. Who plays looks twice a second for 2 s, and shall not miss what is seen here. */
  slept: 2600 * MICROS_PER_MS,
  /** Silence goes on for so long then. */
  grace: 100 * MICROS_PER_MS,
} as const

/** Set frames that may be on the way without a reply. */
export const MOST_SETS_IN_FLIGHT = 2

/** In place of a rate: what the box has is not known. */
export const UNKNOWN = -1

/** The longest identity is 522 bytes with its CRC. */
const MAX_BLOCK = 1024

export interface LinkLamp {
  readonly index: LampIndex
  readonly slot: number
  /** As it shall be. */
  readonly rate: number
  readonly duty: number
  /** As it was sent last, or UNKNOWN. */
  readonly sentRate: number
  readonly sentDuty: number
  /** The pulse's flash that it is in; null: it is no pulse. */
  readonly flash: number | null
}

/** A frame that the box has not answered yet. */
export interface Flight {
  readonly sequence: number
  readonly type: HostFrame['type']
  /** Places of the lamps that it carries. */
  readonly places: readonly number[]
  readonly sentAt: Micros
  /** When its reply is missing; null until it has left. */
  readonly due: Micros | null
}

export interface SerialLinkState {
  readonly output: SerialOutput
  readonly places: Places
  readonly phase: LinkState
  readonly open: boolean
  readonly closing: boolean
  /** In slot order. */
  readonly lamps: readonly LinkLamp[]
  /** Who the box said it is, last; null before. */
  readonly identity: BoxIdentity | null
  /** Of the next frame. */
  readonly sequence: number
  /** Frames given to the port that have not left, oldest first, and their bytes. */
  readonly atPort: readonly {
    readonly sequence: number
    readonly type: HostFrame['type']
    readonly bytes: number
  }[]
  readonly flights: readonly Flight[]
  /** When the line will have carried all that has left. */
  readonly lineFree: Micros
  /** Frames that go as soon as they can; `full`: every lamp, with the next beat. */
  readonly owes: {
    readonly dark: boolean
    readonly hello: boolean
    readonly beat: boolean
    readonly full: boolean
  }
  /** Places of lamps that are sent one a frame, because a frame with several was refused. */
  readonly alone: readonly number[]
  /** Where the next set begins to look for lamps, so that none is passed over for ever. */
  readonly from: number
  /** Times of the next hello, the next beat, and of giving the box up. */
  readonly helloAt: Micros
  readonly beatAt: Micros
  readonly silentAt: Micros
  /** When the last frame that the box has answered was given to the port. */
  readonly answeredAt: Micros
  /** Whether this silence was given its grace. */
  readonly graced: boolean
  /** The time it asked to be woken at; null for none. */
  readonly wakeAt: Micros | null
  /** Of the box's last frame; null before. */
  readonly boxSequence: number | null
  readonly decoder: SerialDecoderState
}

export const OWES_NOTHING = { dark: false, hello: false, beat: false, full: false } as const

export function startLink({ output, lamps }: SerialLinkConfig): SerialLinkState {
  const ordered = bySlot(lamps).map(({ index, slot }): LinkLamp => ({
    index,
    slot,
    rate: 0,
    duty: 0,
    flash: null,
    sentRate: UNKNOWN,
    sentDuty: 0,
  }))
  return {
    output,
    places: placesOf(ordered),
    phase: 'waiting',
    open: false,
    closing: false,
    lamps: ordered,
    identity: null,
    sequence: 0,
    atPort: [],
    flights: [],
    lineFree: 0,
    owes: OWES_NOTHING,
    alone: [],
    from: 0,
    helloAt: 0,
    beatAt: 0,
    silentAt: 0,
    answeredAt: 0,
    graced: false,
    wakeAt: null,
    boxSequence: null,
    decoder: serialDecoder.start({ maxBlock: MAX_BLOCK }),
  }
}

/** How many slots the box has for us, as far as is known: none where its frames are of another version, whatever they would do there. */
export function slotsOf({ identity }: SerialLinkState): number {
  if (identity && identity.version !== SERIAL_VERSION) return 0
  return identity?.lamps ?? MOST_SLOTS
}

/** Whether all has left and, where the box answers, has been answered: the port may close. */
export function linkIsQuiet(state: SerialLinkState): boolean {
  if (!state.open) return true
  return (
    state.atPort.length === 0 && !state.owes.dark && (state.phase !== 'ready' || state.flights.length === 0)
  )
}
