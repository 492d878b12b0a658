import type { Lamp, MidiLayout, Output, Rig } from '../domain/rig.ts'
import type { NewShowAnswers, Wiring } from './new-show-answers.ts'
import { PLANT_NAMES } from './plant-names.ts'

/** Flashing under this is seen (about; people differ), so octaves lift lower notes above it until somebody decides otherwise. */
const LOWEST_HZ = 60
/** Usual for what shapes the sound of a note (MPE specification 1.0: the third dimension). */
const DUTY_CONTROLLER = 74
const FIRST_KEY = 36

/** Lamps hung in an arc over one supply, on as many outputs as their wiring needs. */
export function newRig(count: number, wiring: Wiring, supply: NewShowAnswers['supply']): Rig {
  const room = roomOn(wiring)
  const outputs = Array.from({ length: Math.ceil(count / room) }, (_, index) => newOutput(wiring, index))
  const { volts, maxAmps, watts } = supply
  const lamps = Array.from({ length: count }, (_, index): Lamp => {
    const name = PLANT_NAMES[index % PLANT_NAMES.length] ?? ''
    return {
      id: name.toLowerCase(),
      name,
      output: outputs[Math.floor(index / room)]?.id ?? '',
      slot: index % room,
      supply: 'bench',
      watts,
      ...placeInArc(index, count),
      lowHz: LOWEST_HZ,
      highHz: 4200,
      minDuty: 0.02,
      maxDuty: 0.5,
      trimCents: 0,
      delayMs: 0,
    }
  })
  return { supplies: [{ id: 'bench', volts, maxAmps, usable: 0.8 }], outputs, lamps }
}

/** Lamps that fit on one output. */
function roomOn(wiring: Wiring): number {
  if (wiring.kind !== 'midi') return 256
  const room: Record<MidiLayout, number> = {
    'channel-per-lamp': 16,
    // Channel 1 is the manager's (MPE specification 1.0, lower zone).
    mpe: 15,
    'note-per-lamp': 128 - FIRST_KEY,
  }
  return room[wiring.layout]
}

function newOutput(wiring: Wiring, index: number): Output {
  const number = index === 0 ? '' : String(index + 1)
  if (wiring.kind === 'midi') {
    const { layout } = wiring
    const given = index === 0 ? wiring.port : ''
    return {
      id: `din${number}`,
      kind: 'midi',
      port: given.trim() === '' ? `Lamp box${number && ` ${number}`}: choose its MIDI port` : given,
      layout,
      firstChannel: layout === 'mpe' ? 2 : 1,
      firstNote: FIRST_KEY,
      bendRange: wiring.layout === 'mpe' ? 48 : 2,
      bendBits: 14,
      ...(layout === 'note-per-lamp' ? {} : { dutyController: DUTY_CONTROLLER }),
      offsetMs: 0,
    }
  }
  const given = wiring.kind === 'virtual' ? 'virtual' : wiring.port
  return {
    id: `wire${number}`,
    kind: 'serial',
    port: given.trim() === '' ? 'Lamp box: choose its serial port' : given,
    baud: 500_000,
    timer: { clockHz: 16_000_000, prescalers: [1, 8, 64, 256, 1024], bits: 16 },
    offsetMs: 0,
  }
}

/** One apart, highest in the middle. */
function placeInArc(index: number, count: number): { readonly x: number; readonly y: number } {
  const half = (count - 1) / 2
  const fromMiddle = half === 0 ? 0 : (index - half) / half
  return { x: index - half, y: Math.round((2 - 1.4 * fromMiddle ** 2) * 100) / 100 }
}
