import { z } from 'zod'
import {
  channel,
  controller,
  duty,
  id,
  key,
  label,
  milliseconds,
  positive,
  reference,
} from './field-values.ts'

const supply = z.strictObject({
  id,
  volts: positive(1000),
  maxAmps: positive(10_000),
  usable: positive(1).default(0.8),
})

/** Defaults: the 16-bit timer of a 16 MHz AVR (ATmega328P data sheet, timer 1). */
const timer = z.strictObject({
  clockHz: positive(1e9).default(16_000_000),
  prescalers: z.array(z.int().min(1).max(65_535)).min(1).max(255).default([1, 8, 64, 256, 1024]),
  bits: z.int().min(1).max(32).default(16),
})

const serialOutput = z.strictObject({
  id,
  kind: z.literal('serial'),
  port: label,
  baud: z.int().min(300).max(12_000_000).default(500_000),
  timer: timer.prefault({}),
  offsetMs: milliseconds(10_000).default(0),
})

const mtsOut = z.strictObject({
  form: z.enum(['keys', 'bulk', 'octave', 'octave-fine']).default('keys'),
  program: z.int().min(0).max(127).default(0),
  device: z.int().min(0).max(127).default(127),
})

const midiOutput = z.strictObject({
  id,
  kind: z.literal('midi'),
  port: label,
  layout: z.enum(['channel-per-lamp', 'mpe', 'note-per-lamp']),
  /** Left out: 1, or 2 for `mpe`, whose lower zone keeps channel 1 for its manager. */
  firstChannel: channel.optional(),
  firstNote: key.default(36),
  /** Left out: 2, or 48 for `mpe` (MIDI Polyphonic Expression 1.0). */
  bendRange: z.int().min(1).max(96).optional(),
  bendBits: z.int().min(7).max(14).default(14),
  dutyController: controller.optional(),
  mts: mtsOut.optional(),
  offsetMs: milliseconds(10_000).default(0),
})

const heat = z.strictObject({
  meanWatts: positive(100_000),
  seconds: z.number().min(0.1).max(3600).default(10),
})

const lamp = z.strictObject({
  id,
  name: label.optional(),
  output: reference,
  slot: z.int().min(0).max(255),
  supply: reference,
  watts: positive(100_000),
  heat: heat.optional(),
  /** Left out: the lamp's place in the list. */
  x: z.number().min(-1e6).max(1e6).optional(),
  y: z.number().min(-1e6).max(1e6).default(0),
  lowHz: positive(100_000).default(20),
  highHz: positive(100_000).default(4200),
  minDuty: duty.default(0.02),
  maxDuty: duty.default(0.5),
  trimCents: z.number().min(-1200).max(1200).default(0),
  delayMs: milliseconds(10_000).default(0),
})

export const rigSchema = z.strictObject({
  supplies: z.array(supply).min(1),
  outputs: z.array(z.discriminatedUnion('kind', [serialOutput, midiOutput])).min(1),
  lamps: z.array(lamp).min(1),
})
