import { Midi } from 'tonal'
import type { FromEngine, LampStatus, PortStatus } from '../../src/contract/from-engine.ts'
import { ENTER_AT, placeWords } from '../engine/song-words.ts'

/** What `lanthorn play` shows: lines for what happened, and how things stand now. */
export interface PlayView {
  /** A line to print for a message, if there is something to say. */
  line(message: FromEngine): string | undefined
  /** How things stand: a few lines that are drawn over. */
  standing(): readonly string[]
}

const BAR = 20

export function createPlayView(): PlayView {
  let title = ''
  let song = ''
  let coming = ''
  let lamps: readonly LampStatus[] = []
  let figures = ''
  const ports = new Map<string, PortStatus>()

  return {
    line(message) {
      switch (message.type) {
        case 'loaded':
          title = message.title
          song = message.song
          coming = ''
          return `${message.title}: song ${message.song}; ready`
        case 'load-failed':
          return message.message
        case 'song':
          song = message.song
          return `song ${message.song}`
        case 'coming': {
          const { song: next, position, enterAt } = message
          coming = next === null ? '' : ` (${next} comes ${ENTER_AT[enterAt]})`
          return next === null
            ? undefined
            : `${placeWords({ song: next, position })} comes ${ENTER_AT[enterAt]}`
        }
        case 'port':
          ports.set(message.port.id, message.port)
          return `${message.port.id}: ${message.port.message}`
        case 'diagnostic': {
          const { level, source, message: text } = message.diagnostic
          return `${level === 'info' ? '' : `${level}: `}${source}: ${text}`
        }
        case 'lamps':
          lamps = message.lamps
          return undefined
        case 'figures': {
          const { latency, lateness, counts } = message
          const counted = Object.entries(counts).map(([what, count]) => `${what} ${count}`)
          figures = [
            `latency p50 ${ms(latency.p50)} p99 ${ms(latency.p99)} max ${ms(latency.max)}`,
            `late wakes p99 ${ms(lateness.p99)}`,
            ...counted,
          ].join(', ')
          return undefined
        }
        case 'dark':
          return 'all dark'
        case 'stopped':
          return message.clean
            ? 'stopped; every lamp is dark'
            : 'stopped, but not every off is known to have left'
        case 'not-understood':
          return `not understood: ${message.message}`
        default:
          return undefined
      }
    },
    standing() {
      const trouble = [...ports.values()].filter(({ state }) => state !== 'open' && state !== 'ready')
      return [
        `${title} / ${song}${coming}   d dark   n next song   p previous   q quit`,
        ...lamps.map(lampLine),
        figures,
        ...trouble.map(({ id, message }) => `! ${id}: ${message}`),
      ]
    },
  }
}

function lampLine({ lamp, on, part, key, realHz, cents, duty, glow }: LampStatus): string {
  const name = lamp.padEnd(14)
  if (on && glow) return `${name} glows, no note  ${part ?? ''}`
  if (!on || key === undefined || realHz === undefined || cents === undefined || duty === undefined)
    return `${name} .`
  const bar = '|'.repeat(Math.max(1, Math.round(duty * BAR))).padEnd(BAR)
  const note = Midi.midiToNoteName(Math.round(key)).padEnd(4)
  return `${name} ${bar} ${note} ${realHz.toFixed(2).padStart(9)} Hz ${signed(cents)} c  ${part ?? ''}`
}

function signed(cents: number): string {
  return `${cents < 0 ? '-' : '+'}${Math.abs(cents).toFixed(2)}`
}

function ms(micros: number): string {
  return `${(micros / 1000).toFixed(2)} ms`
}
