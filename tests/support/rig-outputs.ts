import type { LampChange, Lit } from '../../src/domain/lamp-state.ts'
import { DARK } from '../../src/domain/lamp-state.ts'
import type { Bender } from '../../src/tuning/bend-quantise.ts'
import type { MidiOutput, SerialOutput, TimerSpec } from '../../src/domain/rig.ts'

/** A 16-bit timer of a 16 MHz part. */
export const TIMER_16MHZ: TimerSpec = { clockHz: 16_000_000, prescalers: [1, 8, 64, 256, 1024], bits: 16 }

export const WIRE: SerialOutput = {
  id: 'wire',
  kind: 'serial',
  port: '/dev/ttyUSB0',
  baud: 500_000,
  timer: TIMER_16MHZ,
  offsetMs: 0,
}

/** A receiver that goes by all 14 bits. */
export function bender(bendRange: number, bendBits = 14): Bender {
  return { bendRange, bendBits }
}

export function midiOutput(more: Partial<MidiOutput> = {}): MidiOutput {
  return {
    id: 'din',
    kind: 'midi',
    port: 'Lamp box',
    layout: 'channel-per-lamp',
    firstChannel: 1,
    firstNote: 60,
    bendRange: 2,
    bendBits: 14,
    offsetMs: 0,
    ...more,
  }
}

/** Lamps 0, 1, 2... of the rig in slots 0, 1, 2... */
export function lampsInSlots(count: number) {
  return Array.from({ length: count }, (_, index) => ({ index, slot: index }))
}

export function lit(more: Partial<Lit> & Pick<Lit, 'drive'>): Lit {
  return {
    on: true,
    part: 'lead',
    player: 'keys',
    note: 1,
    key: 69,
    velocity: 100,
    hz: 440,
    realHz: 440,
    cents: 0,
    duty: 0.5,
    strike: true,
    ...more,
  }
}

export function dark(index: number): LampChange {
  return { lamp: `lamp-${index}`, index, state: DARK }
}

export function change(index: number, state: Lit): LampChange {
  return { lamp: `lamp-${index}`, index, state }
}
