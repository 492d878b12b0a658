import type {
  FromEngine,
  LampStatus,
  MonitorEvent,
  PartSteps,
  PlayerActivity,
  PortStatus,
} from '../../../src/contract/from-engine.ts'
import type { FromHost } from '../../../src/contract/from-host.ts'

type Said<Type extends FromHost['type']> = Extract<FromHost, { type: Type }>

/** Something to be read by a person: a diagnostic, a refusal, a fault of a file. */
export type TimeWord = Said<'time'>

export interface Word {
  /** Rising; tells words apart. */
  readonly count: number
  readonly level: 'info' | 'warning' | 'fault'
  readonly source: string
  readonly message: string
}

/** All that a screen knows of the house; each message of the host gives the next one. */
export interface HouseView {
  /** `asking`: a code is wanted. `lost`: the host is gone; looked for again. */
  readonly link: 'connecting' | 'asking' | 'open' | 'lost'
  readonly noEntry?: Said<'no-entry'>
  readonly welcome?: Said<'welcome'>
  readonly show?: Said<'show'>
  readonly song?: { readonly song: string; readonly position: number | null }
  /** The engine's process runs and has a show. */
  readonly isLoaded: boolean
  readonly loadFailed?: string
  readonly lamps: ReadonlyMap<string, LampStatus>
  /** Engine time of the last `lamps`. */
  readonly lampsAt: number
  /** Where the patterns of the song that plays are, by part. */
  readonly steps: ReadonlyMap<string, PartSteps>
  /** How the song's beats go. */
  readonly time?: TimeWord | undefined
  /** The tuning that the song goes on in; null: its own. */
  readonly tuned: string | null
  readonly players: ReadonlyMap<string, PlayerActivity>
  /** Engine time of the last `players`. */
  readonly playersAt: number
  readonly ports: ReadonlyMap<string, PortStatus>
  readonly listed?: Extract<FromEngine, { type: 'ports' }>
  readonly figures?: Said<'figures'>
  /** What guards have counted and done. */
  readonly guards?: Said<'guards'> | undefined
  readonly finding: string | null
  readonly learned?: Said<'learned'>
  readonly tuning?: Said<'tuning'>
  readonly checks?: Said<'checks'>
  /** The last that was counted to the end. */
  readonly takeChecks?: Said<'take-checks'>
  /** Takes are being counted. */
  readonly takesCounting?:
    { readonly revision: number; readonly done: number; readonly of: number } | undefined
  readonly venue?: Said<'venue'>
  readonly scaleRead?: Said<'scale-read'>
  readonly scales?: Said<'scales'>
  readonly scaleWritten?: Said<'scale-written'>
  readonly editRefused?: Said<'edit-refused'>
  readonly saved?: Said<'saved'>
  readonly remote?: Said<'remote'>
  readonly recent: readonly string[]
  /** A song that was asked for and begins later. */
  readonly coming?: Said<'coming'>
  readonly fileChanged: string | null
  /** Whether what is changed outlives a crash. */
  readonly kept?: Said<'kept'>
  readonly recoveries: Said<'recoveries'>['found']
  readonly sheet?: Said<'sheet'>
  /** Latest last, the last hundred. */
  readonly words: readonly Word[]
  readonly wordsSaid: number
  /** Latest last, the last two thousand. */
  readonly monitor: readonly MonitorEvent[]
  /** Events that were too many to be told. */
  readonly monitorLeft: number
  /** What could not be opened, saved or read, latest last, the last twenty; each to be closed by hand. */
  readonly failures: readonly Word[]
  /** Counts the dark-alls that were done. */
  readonly darks: number
  /** Messages of the host that could not be read, as from another version of it. */
  readonly unread: number
}

export const NOTHING_YET: HouseView = {
  link: 'connecting',
  isLoaded: false,
  lamps: new Map(),
  lampsAt: 0,
  steps: new Map(),
  tuned: null,
  players: new Map(),
  playersAt: 0,
  ports: new Map(),
  finding: null,
  recent: [],
  fileChanged: null,
  recoveries: [],
  words: [],
  wordsSaid: 0,
  monitor: [],
  monitorLeft: 0,
  failures: [],
  darks: 0,
  unread: 0,
}

const MOST_WORDS = 100
const MOST_MONITOR = 2_000
const MOST_FAILURES = 20

/** The view after a message. */
export function told(view: HouseView, message: FromHost): HouseView {
  switch (message.type) {
    case 'welcome':
      // While it is in, a screen is welcomed anew only to be told what has changed of that, such as that the cautions were read: nothing else is told again.
      return view.link === 'open' ? { ...view, welcome: message } : newcomer(view, message)
    case 'no-entry':
      return { ...view, link: 'asking', noEntry: message }
    case 'show':
      return { ...view, show: message, tuned: stillThere(view.tuned, message.show) }
    case 'hello':
      // A new engine: what the one before it said of lamps and players holds no longer.
      return {
        ...nothingComes(view),
        lamps: new Map(),
        steps: new Map(),
        time: undefined,
        tuned: null,
        guards: undefined,
        players: new Map(),
        finding: null,
        isLoaded: false,
      }
    case 'loaded': {
      const { loadFailed: _, ...rest } = view
      return { ...rest, isLoaded: true, song: { song: message.song, position: message.position } }
    }
    case 'load-failed':
      return said({ ...view, loadFailed: message.message }, 'fault', 'show', message.message)
    case 'song': {
      // Only an engine that has a show says this.
      const next = view.coming?.song === message.song ? nothingComes(view) : view
      return { ...next, isLoaded: true, song: { song: message.song, position: message.position } }
    }
    case 'port':
      return { ...view, ports: new Map(view.ports).set(message.port.id, message.port) }
    case 'diagnostic': {
      const { level, source, message: text } = message.diagnostic
      return said(view, level, source, text)
    }
    case 'lamps':
      return {
        ...view,
        lamps: new Map(message.lamps.map((lamp) => [lamp.lamp, lamp])),
        lampsAt: message.at,
      }
    case 'scale-read':
      return { ...view, scaleRead: message }
    case 'scales':
      return { ...view, scales: message }
    case 'scale-written':
      return { ...view, scaleWritten: message }
    case 'tuned':
      return { ...view, tuned: message.tuning }
    case 'time':
      return { ...view, time: message }
    case 'steps':
      return { ...view, steps: new Map(message.parts.map((one) => [one.part, one])) }
    case 'players':
      return {
        ...view,
        players: new Map(message.players.map((one) => [one.player, one])),
        playersAt: message.at,
      }
    case 'figures':
      return { ...view, figures: message }
    case 'guards':
      return { ...view, guards: message }
    case 'ports':
      return { ...view, listed: message }
    case 'monitor':
      return {
        ...view,
        monitor: [...view.monitor, ...message.events].slice(-MOST_MONITOR),
        monitorLeft: view.monitorLeft + message.left,
      }
    case 'learned':
      return { ...view, learned: message }
    case 'finding': {
      const next = { ...view, finding: message.lamp }
      return message.why === undefined ? next : said(next, 'warning', 'find a lamp', message.why)
    }
    case 'dark':
      return { ...view, darks: view.darks + 1 }
    case 'stopped':
      return { ...nothingComes(view), isLoaded: false }
    case 'not-understood':
      return said(view, 'warning', 'engine', message.message)
    case 'alive':
      return view
    case 'edit-refused': {
      const why = message.faults.map(({ path, message: text }) => `${path}: ${text}`).join('; ')
      return said({ ...view, editRefused: message }, 'warning', message.label, why)
    }
    case 'saved':
      return said({ ...view, saved: message }, 'info', 'show', `saved as ${message.file}`)
    case 'failed':
      return failed(said(view, 'fault', message.what, message.message))
    case 'refused':
      return said(view, 'warning', 'host', message.message)
    case 'tuning':
      return { ...view, tuning: message }
    case 'checks':
      return { ...view, checks: message }
    case 'take-checks': {
      const { counting, revision } = message
      if (counting) return { ...view, takesCounting: { revision, ...counting } }
      return { ...view, takeChecks: message, takesCounting: undefined }
    }
    case 'venue':
      return { ...view, venue: message }
    case 'remote':
      return { ...view, remote: message }
    case 'coming':
      return message.song === null ? nothingComes(view) : { ...view, coming: message }
    case 'file-changed':
      return { ...view, fileChanged: message.message }
    case 'kept':
      return { ...view, kept: message }
    case 'recoveries':
      return { ...view, recoveries: message.found }
    case 'sheet':
      return { ...view, sheet: message }
    case 'recent':
      return { ...view, recent: message.files }
  }
}

/**
 * After a welcome the host tells everything that it keeps, last diagnostics too: what it told before is let go, so that nothing of a house that has changed
 * meanwhile stays on, and no word stands twice. The show stays to be seen until the next one comes.
 */
function newcomer(view: HouseView, welcome: Said<'welcome'>): HouseView {
  const { noEntry: _, remote: __, figures: ___, kept: ____, guards: _____, ...rest } = view
  const { lamps, steps, tuned, players, ports, finding, recent, isLoaded, words, fileChanged, recoveries } =
    NOTHING_YET
  return {
    ...nothingComes(rest),
    link: 'open',
    welcome,
    takesCounting: undefined,
    lamps,
    steps,
    tuned,
    players,
    ports,
    finding,
    recent,
    isLoaded,
    words,
    fileChanged,
    recoveries,
  }
}

/** A tuning that an edit took away is not played in any more. */
function stillThere(tuned: string | null, { tunings }: Said<'show'>['show']): string | null {
  return tunings.some(({ id }) => id === tuned) ? tuned : null
}

/** No song is waited for any more. */
function nothingComes(view: HouseView): HouseView {
  const { coming: _, ...rest } = view
  return rest
}

/** The last word is a failure. */
function failed(view: HouseView): HouseView {
  return { ...view, failures: [...view.failures, ...view.words.slice(-1)].slice(-MOST_FAILURES) }
}

/** A message came that cannot be read. It is said once; further ones are counted. */
export function notRead(view: HouseView): HouseView {
  const next = { ...view, unread: view.unread + 1 }
  if (view.unread > 0) return next
  return said(
    next,
    'warning',
    'this screen',
    'The host says things that this screen does not know; reload it to get the one that fits.',
  )
}

/** The view with something more to be read by a person. */
export function said(view: HouseView, level: Word['level'], source: string, message: string): HouseView {
  const count = view.wordsSaid + 1
  const words = [...view.words, { count, level, source, message }].slice(-MOST_WORDS)
  return { ...view, words, wordsSaid: count }
}
