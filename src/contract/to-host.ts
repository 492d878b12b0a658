import { z } from 'zod'
import { asks } from './to-engine.ts'
import { CONTRACT_VERSION } from './version.ts'

const v = z.literal(CONTRACT_VERSION)

/** The longest message that a host reads, in UTF-16 units: a show of several hundred songs. */
export const LONGEST_MESSAGE = 4_000_000

/** One step of a way into the show: a field's name or a place in a list. */
const way = z
  .array(z.union([z.string().max(200), z.int().min(0).max(100_000)]))
  .min(1)
  .max(12)

const change = z.discriminatedUnion('do', [
  /** Puts a value where one stands, or a field where none does. */
  z.strictObject({ do: z.literal('set'), path: way, value: z.json() }),
  /** Puts a value into a list before that place; the list's length is its end. */
  z.strictObject({ do: z.literal('insert'), path: way, value: z.json() }),
  z.strictObject({ do: z.literal('remove'), path: way }),
])

/** What the three questions of a first start are answered with. */
const answers = z.strictObject({
  title: z.string().min(1).max(200),
  players: z
    .array(
      z.strictObject({
        kind: z.enum(['keys', 'pads', 'strings']),
        /** The MIDI port as the system names it; empty: not known yet, found later by playing. */
        port: z.string().max(200),
        /** 1 to 16; empty: the usual ones of its kind. */
        channels: z.array(z.int().min(1).max(16)).max(16),
      }),
    )
    .min(1)
    .max(16),
  lamps: z.int().min(1).max(64),
  wiring: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('serial'), port: z.string().max(200) }),
    z.strictObject({
      kind: z.literal('midi'),
      port: z.string().max(200),
      layout: z.enum(['channel-per-lamp', 'mpe', 'note-per-lamp']),
    }),
    /** No lamps yet: a box in memory. */
    z.strictObject({ kind: z.literal('virtual') }),
  ]),
  supply: z.strictObject({
    volts: z.number().positive().max(1000),
    maxAmps: z.number().positive().max(10_000),
    watts: z.number().positive().max(100_000),
  }),
})

/**
 * What a screen, or the desktop's main process, asks of the host: the process that keeps the engine running and holds the show. The first message is
 * `enter`; before it nothing else is read. Whoever may not touch files is answered `refused`.
 */
export const toHost = z.discriminatedUnion('type', [
  /** With the key a screen was given before or in its address, or the code shown on the host; a window of the desktop needs neither. */
  z.strictObject({
    v,
    type: z.literal('enter'),
    key: z.string().max(200).optional(),
    code: z.string().max(20).optional(),
  }),
  ...asks.options,
  /** Whether this screen wants `monitor`. */
  z.strictObject({ v, type: z.literal('watch'), monitor: z.boolean() }),
  /**
   * Changes the show, all or nothing. `base`: the revision that the screen saw; another by now is refused, since places in lists may have moved. Answered by
   * `show`, or by `edit-refused` with what is wrong.
   */
  z.strictObject({
    v,
    type: z.literal('edit'),
    base: z.int(),
    /** For undo, as in "Undo: tempo of Mist clock". */
    label: z.string().min(1).max(200),
    changes: z.array(change).min(1).max(1000),
  }),
  z.strictObject({ v, type: z.literal('undo') }),
  z.strictObject({ v, type: z.literal('redo') }),
  /** Makes a show from the answers and loads it; lamps in memory where `wiring` is virtual. */
  z.strictObject({ v, type: z.literal('new-show'), answers }),
  /** The demo show, on lamps in memory, with players in memory. */
  z.strictObject({ v, type: z.literal('open-demo') }),
  /** A show file on the host's disk. Desktop and this machine's browser only. */
  z.strictObject({ v, type: z.literal('open-file'), path: z.string().min(1).max(4096) }),
  /** A show file that was dropped or chosen in a browser. */
  z.strictObject({ v, type: z.literal('open-text'), name: z.string().max(400), text: z.string() }),
  /** To the file it came from, or to `path`. */
  z.strictObject({ v, type: z.literal('save'), path: z.string().min(1).max(4096).optional() }),
  /** The show file was changed by somebody else: read it again, and what was not saved here becomes a recovery; or write over it, and what was there becomes one. */
  z.strictObject({ v, type: z.literal('file-changed'), do: z.enum(['read-again', 'write-over']) }),
  /** Opens what was found of unsaved work, or throws it away. */
  z.strictObject({ v, type: z.literal('recovery'), id: z.string().max(200), do: z.enum(['open', 'drop']) }),
  /**
   * Only playing, changing songs and Dark, and saving; nothing that edits, opens, learns, lights a lamp to be found or changes the rig. Any screen may lock,
   * other devices may not unlock. Kept over restarts.
   */
  z.strictObject({ v, type: z.literal('lock'), locked: z.boolean() }),
  /** The set list to be printed, a page a song. Answered by `sheet`. */
  z.strictObject({ v, type: z.literal('ask-sheet') }),
  /** Lamps in memory, or the rig's own. */
  z.strictObject({ v, type: z.literal('rig'), rig: z.enum(['real', 'virtual']) }),
  /** What each key of a part's range becomes on each of its lamps. Answered by `tuning`. */
  z.strictObject({ v, type: z.literal('ask-tuning'), song: z.string(), part: z.string() }),
  /** A scale file (`.scl`), and the keyboard mapping (`.kbm`) that goes with it, as text. Answered by `scale-read`; nothing is changed. */
  z.strictObject({
    v,
    type: z.literal('read-scale'),
    name: z.string().max(400),
    scl: z.string().max(1_000_000),
    kbm: z.string().max(1_000_000).optional(),
  }),
  /** The scales that come with the house. Answered by `scales`. */
  z.strictObject({ v, type: z.literal('ask-scales') }),
  /** A tuning of the show as scale file and keyboard mapping. Answered by `scale-written`. */
  z.strictObject({ v, type: z.literal('write-scale'), tuning: z.string() }),
  /** Answered by `checks`. */
  z.strictObject({ v, type: z.literal('ask-checks') }),
  /** The takes of the show's songs, played through and counted. Answered by `take-checks`, several times; not to the end where the show changes meanwhile. */
  z.strictObject({ v, type: z.literal('ask-take-checks') }),
  /** The page for the venue, with what is counted in takes. `date`: what stands on it; left out: today. Answered by `venue`. */
  z.strictObject({ v, type: z.literal('ask-venue'), date: z.iso.date().optional() }),
  /** The cautions have been read; they are not put in the way again. */
  z.strictObject({ v, type: z.literal('cautions-read') }),
  /** From the main process only. Opens what is to be open at the start: the show that is locked, else `path`, else the last one, else the demo. */
  z.strictObject({ v, type: z.literal('begin'), path: z.string().min(1).max(4096).optional() }),
  z.strictObject({ v, type: z.literal('sleep') }),
  z.strictObject({ v, type: z.literal('awake') }),
  z.strictObject({ v, type: z.literal('quit') }),
])

export type ToHost = z.output<typeof toHost>
export type ShowChange = z.output<typeof change>
export type FirstStartAnswers = z.output<typeof answers>
