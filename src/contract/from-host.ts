import { z } from 'zod'
import type { Show } from '../domain/show.ts'
import { fromEngine } from './from-engine.ts'
import { CONTRACT_VERSION } from './version.ts'

const v = z.literal(CONTRACT_VERSION)

/** A strategy as screens know it: its name, a line about it, and its options as JSON Schema (draft 2020-12), to draw a form from. */
const strategy = z.strictObject({
  kind: z.string(),
  about: z.string(),
  options: z.record(z.string(), z.unknown()),
})

/** A way into the show: fields' names and places in lists. */
const way = z.array(z.union([z.string(), z.int()])).readonly()

const pitchRow = z.strictObject({
  /** As played. */
  key: z.int(),
  /** What the tuning asks, before the lamp's range; Hz. Null: it has no pitch for the key. */
  asked: z.number().nullable(),
  /** Octaves moved to fit the lamp; null: refused, no octave fits or the output cannot make it. */
  octaves: z.int().nullable(),
  /** After folding; what the output really makes; cents between the two. Absent where refused. */
  hz: z.number().optional(),
  realHz: z.number().optional(),
  cents: z.number().optional(),
})

/** A tuning of the kind `scale`, without an id. */
const scale = z.strictObject({
  name: z.string(),
  pitches: z.array(z.union([z.number(), z.string()])),
  map: z
    .strictObject({
      first: z.int(),
      last: z.int(),
      middle: z.int(),
      formalOctave: z.int(),
      degrees: z.array(z.int().nullable()),
    })
    .optional(),
  refNote: z.int(),
  refHz: z.number(),
})

const fault = z.strictObject({
  /** `$.songs[0].tempo` */
  path: z.string(),
  message: z.string(),
})

const finding = z.strictObject({
  gravity: z.enum(['fault', 'warning', 'note']),
  where: z.string(),
  message: z.string(),
  /** Where in the show to mend it; absent: nowhere in particular. */
  path: way.optional(),
})

/** Of a report of one take, what a screen shows. */
const takeFigures = z.strictObject({
  seconds: z.number(),
  /** The most flashes in any one second: of the field; of one lamp, and which (null: none flashes). */
  fieldPerSecondMax: z.number(),
  lampPerSecondMax: z.number(),
  lamp: z.string().nullable(),
  /** Time with a lamp flashing at 3 to 30 Hz, at under 60 Hz. */
  bandSeconds: z.number(),
  under60Seconds: z.number(),
  /** 0 to 1, of all lamps: lit at one time; on and off in one flash of the field. */
  litShareMax: z.number(),
  flashShareMax: z.number(),
  notesIn: z.int(),
  /** Notes that never lit a lamp, without those meant to. */
  unlit: z.int(),
  worstCents: z.number(),
  supplies: z.array(
    z.strictObject({
      supply: z.string(),
      peakAmps: z.number(),
      meanAmps: z.number(),
      /** maxAmps x usable. */
      limitAmps: z.number(),
    }),
  ),
  /** How often guards acted. */
  guards: z.strictObject({
    refused: z.int(),
    stolen: z.int(),
    heldDown: z.int(),
    folded: z.int(),
    tied: z.int(),
    glowed: z.int(),
  }),
})

/** What the host says: everything the engine says, and its own. */
export const fromHost = z.discriminatedUnion('type', [
  ...fromEngine.options,
  /** The first message after a good `enter`. `key`: to enter with again after a reload. */
  z.strictObject({
    v,
    type: z.literal('welcome'),
    key: z.string(),
    /** `window`: the desktop app. `browser`: on the host's own machine. `remote`: another device. */
    place: z.enum(['window', 'browser', 'remote']),
    mayFiles: z.boolean(),
    strategies: z.array(strategy),
    /** To be read before real lamps are lit for the first time; a paragraph each. */
    cautions: z.array(z.string()),
    areCautionsRead: z.boolean(),
  }),
  /** Wrong key or code, or none; the connection closes. `again`: milliseconds until another try is heard. */
  z.strictObject({ v, type: z.literal('no-entry'), message: z.string(), again: z.int() }),
  /** The show as it stands, complete, after each change of it. */
  z.strictObject({
    v,
    type: z.literal('show'),
    revision: z.int(),
    show: z.custom<Show>((value) => typeof value === 'object' && value !== null && 'songs' in value),
    /** Name of its file; null: never saved. */
    file: z.string().nullable(),
    isSaved: z.boolean(),
    /** What undo and redo would do next; null: nothing. */
    undo: z.string().nullable(),
    redo: z.string().nullable(),
    rig: z.enum(['real', 'virtual']),
    /** Players in memory play the demo's take. */
    isDemo: z.boolean(),
    /** Only playing, changing songs and Dark. */
    isLocked: z.boolean(),
  }),
  /** The show file on the disk is not what was opened or saved here; null: it is again. */
  z.strictObject({ v, type: z.literal('file-changed'), message: z.string().nullable() }),
  /**
   * What is changed and not saved is on the disk up to `revision`, and outlives a crash; null: nothing yet. `message`: why later work is not being kept; null:
   * it is. Told four times a second at most.
   */
  z.strictObject({
    v,
    type: z.literal('kept'),
    revision: z.int().nullable(),
    message: z.string().nullable(),
  }),
  /** Work that was not saved, found at the start or put aside; latest first. Only to those who may touch files. */
  z.strictObject({
    v,
    type: z.literal('recoveries'),
    found: z.array(
      z.strictObject({
        id: z.string(),
        title: z.string(),
        /** Its file; null: it never had one. */
        file: z.string().nullable(),
        /** When it was last written, ISO 8601. */
        at: z.string(),
        /** What it is, for a person. */
        message: z.string(),
      }),
    ),
  }),
  /** A whole HTML page, to be printed. */
  z.strictObject({ v, type: z.literal('sheet'), name: z.string(), html: z.string() }),
  z.strictObject({ v, type: z.literal('edit-refused'), label: z.string(), faults: z.array(fault) }),
  z.strictObject({ v, type: z.literal('saved'), file: z.string() }),
  /** A file could not be opened, saved or read as a show; everything is as it was. */
  z.strictObject({ v, type: z.literal('failed'), what: z.string(), message: z.string() }),
  /** This screen may not do that. */
  z.strictObject({ v, type: z.literal('refused'), message: z.string() }),
  z.strictObject({
    v,
    type: z.literal('tuning'),
    revision: z.int(),
    song: z.string(),
    part: z.string(),
    lamps: z.array(z.strictObject({ lamp: z.string(), rows: z.array(pitchRow) })),
  }),
  /** What a scale file says, to be put into the show as a tuning; or what is wrong with it, by line. */
  z.strictObject({
    v,
    type: z.literal('scale-read'),
    name: z.string(),
    scale: scale.nullable(),
    faults: z.array(z.string()),
  }),
  /** `about`: what each is good for. */
  z.strictObject({
    v,
    type: z.literal('scales'),
    scales: z.array(z.strictObject({ id: z.string(), about: z.string(), scale })),
  }),
  z.strictObject({
    v,
    type: z.literal('scale-written'),
    tuning: z.string(),
    scl: z.string(),
    kbm: z.string(),
  }),
  z.strictObject({
    v,
    type: z.literal('checks'),
    revision: z.int(),
    /** Gravest first. */
    findings: z.array(finding),
  }),
  /** What was counted in takes, or how far that is. */
  z.strictObject({
    v,
    type: z.literal('take-checks'),
    revision: z.int(),
    /** Takes done and to be done; null: all are, and the rest is whole. */
    counting: z.strictObject({ done: z.int(), of: z.int() }).nullable(),
    /** Worst first; empty until all are counted. */
    songs: z.array(
      z.strictObject({
        song: z.string(),
        takes: z.array(
          z.strictObject({
            /** A path from the show's folder, as the show has it. */
            take: z.string(),
            /** Null: it could not be counted. */
            figures: takeFigures.nullable(),
          }),
        ),
        /** Of its takes, worst first. */
        findings: z.array(finding),
      }),
    ),
    /** Texts to be copied; null until all are counted. */
    notices: z.strictObject({ audience: z.string(), venue: z.string() }).nullable(),
  }),
  /** A whole HTML page for the venue, to be printed. */
  z.strictObject({ v, type: z.literal('venue'), name: z.string(), html: z.string() }),
  /** For the host's own screens: where other devices find it, and the code that lets the next one in. */
  z.strictObject({
    v,
    type: z.literal('remote'),
    addresses: z.array(z.string()),
    code: z.string(),
    screens: z.int(),
    /** Turned away since the start. */
    refused: z.int(),
  }),
  /** Shows opened before, latest first; only to those who may touch files. */
  z.strictObject({ v, type: z.literal('recent'), files: z.array(z.string()) }),
])

export type FromHost = z.output<typeof fromHost>
export type StrategyForm = z.output<typeof strategy>
export type ScaleWord = z.output<typeof scale>
export type TakeFiguresWord = z.output<typeof takeFigures>
export type PitchRow = z.output<typeof pitchRow>
