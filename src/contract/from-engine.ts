import { z } from 'zod'
import { CONTRACT_VERSION } from './version.ts'

const v = z.literal(CONTRACT_VERSION)

/** Which `load` or `revise` this answers, as it was numbered. */
const request = z.int().optional()

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
  /** A guard keeps it lit between notes, above hearing: it sounds nothing, and has no key. */
  glow: z.literal(true).optional(),
  /** The part whose claim has the lamp, lit or dark: no other part lights it now. */
  claimedBy: z.string().optional(),
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

const dropReason = z.enum(['floor', 'mask', 'crosstalk', 'ghost'])

/** One hit on a pad. */
const hit = z.strictObject({
  /** Engine time. */
  at: z.int(),
  key: z.int(),
  /** As struck. */
  velocity: z.int(),
  /** What the curve made of it, where that is another. */
  taken: z.int().optional(),
  /** Why it was not taken; absent: it was. */
  dropped: dropReason.optional(),
})

/** What one player is doing. */
const activity = z.strictObject({
  player: z.string(),
  /** Keys down or held by a pedal, as played, lowest first. */
  keys: z.array(z.strictObject({ key: z.int(), velocity: z.int(), pedalled: z.boolean() })),
  /** The bend last heard on any of its channels. */
  bendCents: z.number(),
  /** Engine time of the last message from it; null before the first. */
  heardAt: z.int().nullable(),
  notes: z.int(),
  /** Notes that conditioning did not take (bounces, crosstalk, ghosts). */
  dropped: z.int(),
  /** The same by reason: softer than the floor, bounces, crosstalk, ghosts. Their sum is `dropped`. */
  drops: z.record(dropReason, z.int()),
  /** Of pads only: the hits of the last two seconds up to the latest one, latest last, at most 64. */
  hits: z.array(hit).max(64).optional(),
  /** Notes that conditioning kept back until it knew that they are notes: how many, and for how long in microseconds. Absent: none yet. */
  heldBack: z.strictObject({ count: z.int(), mean: z.number(), max: z.int() }).optional(),
})

/** Where a part's pattern is. */
const partSteps = z.strictObject({
  part: z.string(),
  pattern: z.string(),
  /** Per row: the step it is at, from 0; -1: before its first. */
  rows: z.array(z.int().min(-1)),
  /** Per row. */
  muted: z.array(z.boolean()),
})

/** One line of the monitor. */
const monitorEvent = z.strictObject({
  at: z.int(),
  /** `in`, `out`: at a port. `light`: a lamp changed. `word`: a refusal, a steal, a diagnostic. */
  way: z.enum(['in', 'out', 'light', 'word']),
  /** A player, an output, a lamp or a stage. */
  source: z.string(),
  /** What it means, in words and numbers. */
  text: z.string(),
  /** The bytes in hexadecimal, where there are any; long ones cut. */
  bytes: z.string().optional(),
})

/** What the engine says. */
export const fromEngine = z.discriminatedUnion('type', [
  z.strictObject({ v, type: z.literal('hello'), pid: z.int() }),
  z.strictObject({
    v,
    type: z.literal('loaded'),
    title: z.string(),
    song: z.string(),
    /** Place in the set list, from 0; null where the song is not in it. */
    position: z.int().nullable(),
    songs: z.array(z.string()),
    request,
  }),
  z.strictObject({ v, type: z.literal('load-failed'), message: z.string(), request }),
  z.strictObject({ v, type: z.literal('song'), song: z.string(), position: z.int().nullable() }),
  /** A song was asked for and begins later; null: none any more. */
  z.strictObject({
    v,
    type: z.literal('coming'),
    song: z.string().nullable(),
    position: z.int().nullable(),
    enterAt: z.enum(['now', 'beat', 'bar', 'release']),
  }),
  z.strictObject({ v, type: z.literal('port'), port }),
  z.strictObject({ v, type: z.literal('diagnostic'), at: z.int(), diagnostic }),
  /** Every lamp's state, at most thirty times a second, and only after a change. */
  z.strictObject({ v, type: z.literal('lamps'), at: z.int(), lamps: z.array(lamp) }),
  /** How the song's beats go; told when that changes, and with each beat. */
  z.strictObject({
    v,
    type: z.literal('time'),
    at: z.int(),
    /** Whole beats since the song began, or since the Start of the clock that is followed. */
    beat: z.int(),
    /** Beats a minute; of a clock that is followed an estimate. */
    tempo: z.number(),
    isFollowed: z.boolean(),
    isRunning: z.boolean(),
    /** The followed clock does not come. */
    isQuiet: z.boolean(),
  }),
  /** The tuning that the song goes on in; null: its own. */
  z.strictObject({ v, type: z.literal('tuned'), tuning: z.string().nullable() }),
  /** Where the patterns of the song that plays are, every part that has one, at most thirty times a second, and only after a change. */
  z.strictObject({ v, type: z.literal('steps'), at: z.int(), parts: z.array(partSteps) }),
  /**
   * What the guards of the song that plays have counted and done since it began; once a second at most, and only after a change. A count, no verdict: brightness, area, distance and people are
   * not known.
   */
  z.strictObject({
    v,
    type: z.literal('guards'),
    at: z.int(),
    flash: z.strictObject({
      action: z.enum(['warn', 'fold', 'glow', 'limit', 'off']),
      /** `off`: the day it was turned off. */
      since: z.string().optional(),
      /** `limit`: changes of the field allowed in any one second. */
      changes: z.int().optional(),
      /** Flashes of the field, or of the lamp that has the most, in the second that ends now, and the most of any second. */
      lastSecond: z.int(),
      perSecondMax: z.int(),
      /** Time with a lamp flashing at 3 to 30 Hz, and at under 60 Hz. */
      bandSeconds: z.number(),
      under60Seconds: z.number(),
      /** Lit lamps as a share of all, now, and the most at any time; 0 to 1. */
      litShare: z.number(),
      litShareMax: z.number(),
      /** Lamps that flashed at all, the one with the most in any one second first. */
      lamps: z.array(
        z.strictObject({
          lamp: z.string(),
          lastSecond: z.int(),
          perSecondMax: z.int(),
          bandSeconds: z.number(),
          under60Seconds: z.number(),
        }),
      ),
      /** How often it acted. */
      folded: z.int(),
      tied: z.int(),
      glowed: z.int(),
    }),
    supply: z.strictObject({
      action: z.enum(['refuse', 'steal', 'warn']),
      refused: z.int(),
      stolen: z.int(),
      exceeded: z.int(),
      heldDown: z.int(),
      supplies: z.array(
        z.strictObject({
          id: z.string(),
          /** What may be drawn at any instant: maxAmps x usable. */
          limitAmps: z.number(),
          /** Of all lit lamps as if their pulses coincided: now, and the most. */
          amps: z.number(),
          peakAmps: z.number(),
          /** With their duty, in the mean since the song began. */
          meanAmps: z.number(),
        }),
      ),
    }),
  }),
  /** Once a second. */
  z.strictObject({
    v,
    type: z.literal('figures'),
    at: z.int(),
    /** From an input to its bytes at the port. What conditioning keeps back is not in it: `heldBack` of the player. */
    latency: spread,
    /** The same as counts: bins in rising order, each up to and including its end in microseconds; empty ones left out. */
    latencyBins: z.array(z.strictObject({ upTo: z.number(), count: z.int() })),
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
  /** What every player is doing, at most fifteen times a second, and only after a change. */
  z.strictObject({ v, type: z.literal('players'), at: z.int(), players: z.array(activity) }),
  /** Only while somebody watches; at most ten times a second. `left`: events too many to tell since the last. */
  z.strictObject({
    v,
    type: z.literal('monitor'),
    at: z.int(),
    events: z.array(monitorEvent),
    left: z.int(),
  }),
  /** Heard while learning: the port, and what was played there. */
  z.strictObject({
    v,
    type: z.literal('learned'),
    port: z.string(),
    channel: z.int(),
    key: z.int().optional(),
    controller: z.int().optional(),
    program: z.int().optional(),
  }),
  /** The lamp that is lit to be found; null: none any more, with the reason where it was not its time that ended. */
  z.strictObject({ v, type: z.literal('finding'), lamp: z.string().nullable(), why: z.string().optional() }),
  z.strictObject({ v, type: z.literal('dark') }),
  z.strictObject({ v, type: z.literal('alive'), count: z.int() }),
  /** The engine is about to end. `clean`: every off has left. */
  z.strictObject({ v, type: z.literal('stopped'), clean: z.boolean() }),
  /** A message could not be read. */
  z.strictObject({ v, type: z.literal('not-understood'), message: z.string() }),
])

export type FromEngine = z.output<typeof fromEngine>
export type LampStatus = z.output<typeof lamp>
export type PartSteps = z.output<typeof partSteps>
export type PortStatus = z.output<typeof port>
export type PlayerActivity = z.output<typeof activity>
export type PadHit = z.output<typeof hit>
export type MonitorEvent = z.output<typeof monitorEvent>
export type Spread = z.output<typeof spread>
