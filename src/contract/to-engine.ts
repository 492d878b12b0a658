import { z } from 'zod'
import { CONTRACT_VERSION } from './version.ts'

const v = z.literal(CONTRACT_VERSION)

/** What screens, the command and the supervisor may ask of the engine. */
export const toEngine = z.discriminatedUnion('type', [
  /** Play this show; `text` is the show file's. Lamps go dark first. `recover`: an engine before this one may have left lamps lit. */
  z.strictObject({
    v,
    type: z.literal('load'),
    text: z.string(),
    song: z.string().optional(),
    rig: z.enum(['real', 'virtual']),
    recover: z.boolean().default(false),
  }),
  z.strictObject({ v, type: z.literal('song'), song: z.string() }),
  z.strictObject({ v, type: z.literal('dark-all') }),
  /** Answer to an ambiguous port: the place in the list that was shown. */
  z.strictObject({ v, type: z.literal('choose-port'), port: z.string(), place: z.int().min(0) }),
  /** Listen again to an input that was cut because our own output came back in. */
  z.strictObject({ v, type: z.literal('listen-again'), port: z.string() }),
  z.strictObject({ v, type: z.literal('list-ports') }),
  /** Answered by `alive`. */
  z.strictObject({ v, type: z.literal('ping'), count: z.int() }),
  /** Dark, wait until it has left, end. Answered by `stopped`. */
  z.strictObject({ v, type: z.literal('stop') }),
])

export type ToEngine = z.output<typeof toEngine>
/** As it may be sent, with defaults left out. */
export type ToEngineInput = z.input<typeof toEngine>
