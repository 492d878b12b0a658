import type { LampChange } from '../domain/lamp-state.ts'
import { changesBySlot } from './changes-by-slot.ts'
import { flashOf, isNextFlash, lampSetting } from './lamp-setting.ts'
import { type LinkLamp, type SerialLinkState, slotsOf, UNKNOWN } from './serial-link-state.ts'

/** What the lamps shall be from now on. Throws TypeError for a lamp that was resolved for MIDI. */
export function withChanges(state: SerialLinkState, changes: readonly LampChange[]): SerialLinkState {
  const changed = changesBySlot(state.places, changes)
  if (changed.length === 0) return state
  const lamps = state.lamps.slice()
  for (const { place, state: lampState } of changed) {
    const lamp = lamps[place]
    if (!lamp) continue
    const flash = flashOf(lampState)
    const next = { ...lamp, ...lampSetting(state.output.id, lamp.slot, lampState), flash }
    lamps[place] = isNextFlash(flash, lamp.flash) ? { ...next, sentRate: UNKNOWN } : next
  }
  return { ...state, lamps }
}

/** Every lamp shall be dark. */
export function allDark(state: SerialLinkState): SerialLinkState {
  return {
    ...state,
    lamps: state.lamps.map((lamp) => ({ ...lamp, rate: 0, duty: 0, flash: null })),
    alone: [],
  }
}

/** A frame with the lamps in `places`, as they shall be, is on its way. */
export function sent(state: SerialLinkState, places: readonly number[]): SerialLinkState {
  return overLamps(state, places, (lamp) => ({ ...lamp, sentRate: lamp.rate, sentDuty: lamp.duty }))
}

/** What the box has for the lamps in `places` is not known. */
export function unknown(state: SerialLinkState, places: readonly number[]): SerialLinkState {
  return overLamps(state, places, (lamp) => ({ ...lamp, sentRate: UNKNOWN }))
}

export function everyPlace(state: SerialLinkState): readonly number[] {
  return state.lamps.map((_, place) => place)
}

/** Places of lamps that the box has otherwise than they shall be, beginning at `state.from`, then around. */
export function dirtyPlaces(state: SerialLinkState): readonly number[] {
  const slots = slotsOf(state)
  const found: number[] = []
  state.lamps.forEach((lamp, place) => {
    const same = lamp.rate === lamp.sentRate && lamp.duty === lamp.sentDuty
    if (!same && lamp.slot < slots && !state.alone.includes(place)) found.push(place)
  })
  const turn = found.findIndex((place) => place >= state.from)
  return turn > 0 ? [...found.slice(turn), ...found.slice(0, turn)] : found
}

function overLamps(
  state: SerialLinkState,
  places: readonly number[],
  change: (lamp: LinkLamp) => LinkLamp,
): SerialLinkState {
  if (places.length === 0) return state
  const lamps = state.lamps.slice()
  for (const place of places) {
    const lamp = lamps[place]
    if (lamp) lamps[place] = change(lamp)
  }
  return { ...state, lamps }
}
