import { z } from 'zod'
import { CONTRACT_VERSION } from './version.ts'

const v = z.literal(CONTRACT_VERSION)

const diagnostic = z.strictObject({
  level: z.enum(['info', 'warning', 'fault']),
  source: z.string(),
  code: z.string(),
  message: z.string(),
})

const lamp = z.strictObject({
  lamp: z.string(),
  on: z.boolean(),
  part: z.string().optional(),
  player: z.string().optional(),
  key: z.number().optional(),
  hz: z.number().optional(),
  realHz: z.number().optional(),
  cents: z.number().optional(),
  duty: z.number().optional(),
})

/** Microseconds. */
const spread = z.strictObject({
  count: z.int(),
  p50: z.number(),
  p95: z.number(),
  p99: z.number(),
  max: z.number(),
})

const port = z.strictObject({
  /** What the show calls it: a player's or an output's id. */
  id: z.string(),
  kind: z.enum(['midi-in', 'midi-out', 'serial']),
  /** The port's name in the show. */
  name: z.string(),
  state: z.enum(['missing', 'open', 'ready', 'lost', 'busy', 'ambiguous', 'unavailable', 'cut']),
  /** For a person: what is the matter and what to do. */
  message: z.string(),
})

/** What the engine says. */
export const fromEngine = z.discriminatedUnion('type', [
  z.strictObject({ v, type: z.literal('hello'), pid: z.int() }),
  z.strictObject({
    v,
    type: z.literal('loaded'),
    title: z.string(),
    song: z.string(),
    songs: z.array(z.string()),
  }),
  z.strictObject({ v, type: z.literal('load-failed'), message: z.string() }),
  z.strictObject({ v, type: z.literal('song'), song: z.string() }),
  z.strictObject({ v, type: z.literal('port'), port }),
  z.strictObject({ v, type: z.literal('diagnostic'), at: z.int(), diagnostic }),
  /** Every lamp's state, at most thirty times a second, and only after a change. */
  z.strictObject({ v, type: z.literal('lamps'), at: z.int(), lamps: z.array(lamp) }),
  /** Once a second. */
  z.strictObject({
    v,
    type: z.literal('figures'),
    at: z.int(),
    /** From an input to its bytes at the port. */
    latency: spread,
    /** From the time a step was due to the time it was taken. */
    lateness: spread,
    counts: z.record(z.string(), z.int()),
  }),
  z.strictObject({
    v,
    type: z.literal('ports'),
    midiIn: z.array(z.string()),
    midiOut: z.array(z.string()),
    serial: z.array(z.string()),
    trouble: z.array(z.string()),
  }),
  z.strictObject({ v, type: z.literal('dark') }),
  z.strictObject({ v, type: z.literal('alive'), count: z.int() }),
  /** The engine is about to end. `clean`: every off has left. */
  z.strictObject({ v, type: z.literal('stopped'), clean: z.boolean() }),
  /** A message could not be read. */
  z.strictObject({ v, type: z.literal('not-understood'), message: z.string() }),
])

export type FromEngine = z.output<typeof fromEngine>
export type LampStatus = z.output<typeof lamp>
export type PortStatus = z.output<typeof port>
export type Spread = z.output<typeof spread>
