import type { FirstStartAnswers } from '../../../src/contract/to-host.ts'
import type { MidiLayout } from '../../../src/domain/rig.ts'
import type { PlayerKind } from '../rig/player-edits.ts'
import { KIND_CHANNELS } from '../rig/player-edits.ts'

export interface DraftPlayer {
  readonly kind: PlayerKind
  /** Empty: not known yet. */
  readonly port: string
  readonly channels: readonly number[]
}

/** The answers as they grow; what belongs to another way of wiring is kept too, for those who go back. */
export interface Draft {
  readonly title: string
  readonly players: readonly DraftPlayer[]
  readonly lamps: number
  readonly volts: number
  readonly maxAmps: number
  readonly watts: number
  readonly wiring: 'serial' | 'midi' | 'virtual' | undefined
  readonly serialPort: string
  readonly midiPort: string
  readonly layout: MidiLayout
}

export const MOST_PLAYERS = 16
export const MOST_LAMPS = 64

/** Sensible for a first bench: four lamps of 10 W on 12 V, 5 A. */
export const EMPTY_DRAFT: Draft = {
  title: 'First show',
  players: [newPlayer('keys')],
  lamps: 4,
  volts: 12,
  maxAmps: 5,
  watts: 10,
  wiring: undefined,
  serialPort: '',
  midiPort: '',
  layout: 'channel-per-lamp',
}

export function newPlayer(kind: PlayerKind): DraftPlayer {
  return { kind, port: '', channels: KIND_CHANNELS[kind] }
}

/** How many lamps a layout has room for: sixteen channels, one of them the manager's of an MPE zone; keys from 36 to 127. */
const LAYOUT_ROOM: Readonly<Record<MidiLayout, number>> = {
  'channel-per-lamp': 16,
  mpe: 15,
  'note-per-lamp': 92,
}

/** A field of the draft with what is wrong with it. */
export interface DraftFault {
  readonly field: 'players' | 'wiring' | 'serialPort' | 'midiPort' | 'layout'
  readonly message: string
}

/** What keeps the answers from being whole; numbers and texts that are out of range never come into the draft. */
export function draftFaults(draft: Draft): DraftFault[] {
  const { players, wiring, serialPort, midiPort, layout, lamps } = draft
  const faults: DraftFault[] = []
  if (players.length === 0)
    faults.push({ field: 'players', message: 'nobody plays yet; add keys, pads or strings' })
  if (wiring === undefined)
    faults.push({ field: 'wiring', message: 'not answered yet; choose one of the three' })
  const noPort = 'no port is chosen; choose the one the lamp box is on, or say that there are no lamps yet'
  if (wiring === 'serial' && serialPort === '') faults.push({ field: 'serialPort', message: noPort })
  if (wiring === 'midi' && midiPort === '') faults.push({ field: 'midiPort', message: noPort })
  const room = LAYOUT_ROOM[layout]
  if (wiring === 'midi' && lamps > room) {
    const message = `it has room for ${room} lamps, and there are ${lamps}; choose another layout, or fewer lamps`
    faults.push({ field: 'layout', message })
  }
  return faults
}

/** Undefined while something is not answered. */
export function answersOf(draft: Draft): FirstStartAnswers | undefined {
  const wiring = wiringOf(draft)
  if (!wiring || draftFaults(draft).length > 0) return undefined
  const { title, players, lamps, volts, maxAmps, watts } = draft
  return {
    title,
    players: players.map(({ kind, port, channels }) => ({ kind, port, channels: [...channels] })),
    lamps,
    wiring,
    supply: { volts, maxAmps, watts },
  }
}

function wiringOf({ wiring, serialPort, midiPort, layout }: Draft): FirstStartAnswers['wiring'] | undefined {
  switch (wiring) {
    case 'serial':
      return { kind: 'serial', port: serialPort }
    case 'midi':
      return { kind: 'midi', port: midiPort, layout }
    case 'virtual':
      return { kind: 'virtual' }
    case undefined:
      return undefined
  }
}
