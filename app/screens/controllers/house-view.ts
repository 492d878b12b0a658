import type {
  FromEngine,
  LampStatus,
  MonitorEvent,
  PlayerActivity,
  PortStatus,
} from '../../../src/contract/from-engine.ts'
import type { FromHost } from '../../../src/contract/from-host.ts'

type Said<Type extends FromHost['type']> = Extract<FromHost, { type: Type }>

/** Something to be read by a person: a diagnostic, a refusal, a fault of a file. */
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
  readonly players: ReadonlyMap<string, PlayerActivity>
  /** Engine time of the last `players`. */
  readonly playersAt: number
  readonly ports: ReadonlyMap<string, PortStatus>
  readonly listed?: Extract<FromEngine, { type: 'ports' }>
  readonly figures?: Said<'figures'>
  readonly finding: string | null
  readonly learned?: Said<'learned'>
  readonly tuning?: Said<'tuning'>
  readonly checks?: Said<'checks'>
  readonly editRefused?: Said<'edit-refused'>
  readonly saved?: Said<'saved'>
  readonly remote?: Said<'remote'>
  readonly recent: readonly string[]
  /** Latest last, the last hundred. */
  readonly words: readonly Word[]
  /** Latest last, the last two thousand. */
  readonly monitor: readonly MonitorEvent[]
  /** Events that were too many to be told. */
  readonly monitorLeft: number
  /** Counts the dark-alls that were done. */
  readonly darks: number
}

export const NOTHING_YET: HouseView = {
  link: 'connecting',
  isLoaded: false,
  lamps: new Map(),
  lampsAt: 0,
  players: new Map(),
  playersAt: 0,
  ports: new Map(),
  finding: null,
  recent: [],
  words: [],
  monitor: [],
  monitorLeft: 0,
  darks: 0,
}

const MOST_WORDS = 100
const MOST_MONITOR = 2_000

/** The view after a message. */
export function told(view: HouseView, message: FromHost): HouseView {
  switch (message.type) {
    case 'welcome':
      return { ...view, link: 'open', welcome: message }
    case 'no-entry':
      return { ...view, link: 'asking', noEntry: message }
    case 'show':
      return { ...view, show: message }
    case 'hello':
      // A new engine: what the one before it said of lamps and players holds no longer.
      return { ...view, lamps: new Map(), players: new Map(), finding: null, isLoaded: false }
    case 'loaded': {
      const { loadFailed: _, ...rest } = view
      return { ...rest, isLoaded: true, song: { song: message.song, position: message.position } }
    }
    case 'load-failed':
      return word({ ...view, loadFailed: message.message }, 'fault', 'show', message.message)
    case 'song':
      return { ...view, song: { song: message.song, position: message.position } }
    case 'port':
      return { ...view, ports: new Map(view.ports).set(message.port.id, message.port) }
    case 'diagnostic': {
      const { level, source, message: text } = message.diagnostic
      return word(view, level, source, text)
    }
    case 'lamps':
      return {
        ...view,
        lamps: new Map(message.lamps.map((lamp) => [lamp.lamp, lamp])),
        lampsAt: message.at,
      }
    case 'players':
      return {
        ...view,
        players: new Map(message.players.map((one) => [one.player, one])),
        playersAt: message.at,
      }
    case 'figures':
      return { ...view, figures: message }
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
      return message.why === undefined ? next : word(next, 'warning', 'find a lamp', message.why)
    }
    case 'dark':
      return { ...view, darks: view.darks + 1 }
    case 'stopped':
      return { ...view, isLoaded: false }
    case 'not-understood':
      return word(view, 'warning', 'engine', message.message)
    case 'alive':
      return view
    case 'edit-refused': {
      const why = message.faults.map(({ path, message: text }) => `${path}: ${text}`).join('; ')
      return word({ ...view, editRefused: message }, 'warning', message.label, why)
    }
    case 'saved':
      return word({ ...view, saved: message }, 'info', 'show', `saved as ${message.file}`)
    case 'failed':
      return word(view, 'fault', message.what, message.message)
    case 'refused':
      return word(view, 'warning', 'host', message.message)
    case 'tuning':
      return { ...view, tuning: message }
    case 'checks':
      return { ...view, checks: message }
    case 'remote':
      return { ...view, remote: message }
    case 'recent':
      return { ...view, recent: message.files }
  }
}

function word(view: HouseView, level: Word['level'], source: string, message: string): HouseView {
  const last = view.words.at(-1)
  const count = (last?.count ?? 0) + 1
  return { ...view, words: [...view.words, { count, level, source, message }].slice(-MOST_WORDS) }
}
