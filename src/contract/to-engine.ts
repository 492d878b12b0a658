import { z } from 'zod'
import { CONTRACT_VERSION } from './version.ts'

const v = z.literal(CONTRACT_VERSION)

/** The sender's own number for a `load` or `revise`; the answer has it too. */
const request = z.int().min(0).optional()

/** What a screen may ask of the engine; the host hands it on. */
export const asks = z.discriminatedUnion('type', [
  /** Change to a song; `position`: its place in the set list, where it stands there more than once. */
  z.strictObject({
    v,
    type: z.literal('song'),
    song: z.string(),
    position: z.int().min(0).optional(),
  }),
  /** The next or previous song of the set list; at its ends nothing happens. */
  z.strictObject({ v, type: z.literal('go'), to: z.enum(['next', 'previous']) }),
  /** The next variant of the song that plays, and round again; in its place of the set list. */
  z.strictObject({ v, type: z.literal('variant') }),
  /** What was asked for and has not begun yet does not. */
  z.strictObject({ v, type: z.literal('stay') }),
  /** The song's own tempo, in beats a minute; kept to four decimals, until the next song begins. */
  z.strictObject({ v, type: z.literal('tempo'), bpm: z.number().min(20).max(400) }),
  /** One tap of the tempo; two make one. */
  z.strictObject({ v, type: z.literal('tap') }),
  /** The song's own beats: from beat 0, no further, or on from where they stand. */
  z.strictObject({ v, type: z.literal('beats'), do: z.enum(['start', 'stop', 'go-on']) }),
  /** The song goes on in another tuning until the next begins; null: its own again. `retune`: what sounds as well. */
  z.strictObject({ v, type: z.literal('tune'), tuning: z.string().nullable(), retune: z.boolean() }),
  z.strictObject({ v, type: z.literal('dark-all') }),
  /** Answer to an ambiguous port: the place in the list that was shown. */
  z.strictObject({ v, type: z.literal('choose-port'), port: z.string(), place: z.int().min(0) }),
  /** Listen again to an input that was cut because our own output came back in. */
  z.strictObject({ v, type: z.literal('listen-again'), port: z.string() }),
  z.strictObject({ v, type: z.literal('list-ports') }),
  /** Lights a lamp that is dark for up to two seconds, at a rate above flicker, within the supply; null: dark again. Answered by `finding`. */
  z.strictObject({ v, type: z.literal('find-lamp'), lamp: z.string().nullable() }),
  /** Listens to every MIDI input, also those that no player has, until `learn-end`; each note, controller or program change is answered by `learned`. Nothing is played meanwhile by ports that are not the show's. */
  z.strictObject({ v, type: z.literal('learn') }),
  z.strictObject({ v, type: z.literal('learn-end') }),
])

export type EngineAsk = z.output<typeof asks>

/** What screens, the command and the supervisor may ask of the engine. */
export const toEngine = z.discriminatedUnion('type', [
  /** Play this show; `text` is the show file's. Lamps go dark first. `recover`: an engine or a program before this one may have left lamps lit. */
  z.strictObject({
    v,
    type: z.literal('load'),
    text: z.string(),
    song: z.string().optional(),
    rig: z.enum(['real', 'virtual']),
    recover: z.boolean().default(false),
    /** Where to begin in the set list; counts before `song` where it names that song. */
    position: z.int().min(0).optional(),
    /** A Standard MIDI File in base64 that players in memory play over and over, on ports named as the show's players have them. */
    take: z.string().optional(),
    request,
  }),
  /**
   * The show that is loaded, edited. Ports stay open unless players, outputs or wiring changed; if the song that plays is not what it was, its lamps go dark
   * and it begins anew. Answered by `loaded` or `load-failed`, which leaves all as it was; of several that come at once the last that can be read counts, and
   * those before it are not answered.
   */
  z.strictObject({ v, type: z.literal('revise'), text: z.string(), request }),
  ...asks.options,
  /** Whether to say `monitor`. */
  z.strictObject({ v, type: z.literal('watch'), monitor: z.boolean() }),
  /** The machine is about to sleep: dark, and whatever was due is let go. */
  z.strictObject({ v, type: z.literal('sleep') }),
  /** It is awake again: dark, ports looked for anew. */
  z.strictObject({ v, type: z.literal('awake') }),
  /** Answered by `alive`. */
  z.strictObject({ v, type: z.literal('ping'), count: z.int() }),
  /** Dark, wait until it has left, end. Answered by `stopped`. */
  z.strictObject({ v, type: z.literal('stop') }),
])

export type ToEngine = z.output<typeof toEngine>
/** As it may be sent, with defaults left out. */
export type ToEngineInput = z.input<typeof toEngine>
