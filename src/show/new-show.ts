import type { Player } from '../domain/player.ts'
import type { Show } from '../domain/show.ts'
import type { Channel } from '../domain/units.ts'
import { firstParts } from './first-parts.ts'
import { newRig } from './new-rig.ts'
import type { NewPlayer, NewShowAnswers } from './new-show-answers.ts'
import { EVEN } from './tuning-schema.ts'

const CALLED = {
  keys: { id: 'keys', name: 'Keys' },
  pads: { id: 'pads', name: 'Pads' },
  strings: { id: 'bass', name: 'Bass' },
} as const

const ALL_CHANNELS = Array.from({ length: 16 }, (_, index) => index + 1)
/** General MIDI level 1: percussion is on channel 10. */
const PADS_CHANNELS: readonly Channel[] = [10]
/** A channel a string. */
const STRINGS_CHANNELS: readonly Channel[] = [1, 2, 3, 4]

/** A show to begin with: valid, complete, and playable as it is. What could not be known has a placeholder that says what to do. */
export function newShow(answers: NewShowAnswers): Show {
  const players = newPlayers(answers.players)
  const rig = newRig(answers.lamps, answers.wiring, answers.supply)
  return {
    format: 'lanthorn-show',
    version: 1,
    title: answers.title,
    rig,
    thru: [],
    players,
    tunings: [EVEN],
    songs: [
      {
        id: 'first-light',
        title: 'First light',
        tempo: 120,
        beats: 4,
        tuning: EVEN.id,
        enter: 'cut',
        skip: false,
        takes: [],
        notes: '',
        patterns: [],
        parts: firstParts(
          players,
          rig.lamps.map(({ id }) => id),
        ),
      },
    ],
    setList: ['first-light'],
    switching: { enterAt: 'now', controls: [] },
    clock: { send: [], afterSleep: 'stop' },
    guards: { flash: { action: 'warn' }, supply: { action: 'refuse' } },
  }
}

function newPlayers(given: readonly NewPlayer[]): Player[] {
  return given.map((player, index) => {
    const { kind } = player
    const nth = given.slice(0, index).filter((one) => one.kind === kind).length + 1
    const called = CALLED[kind]
    const name = nth === 1 ? called.name : `${called.name} ${nth}`
    const base = {
      id: nth === 1 ? called.id : `${called.id}${nth}`,
      name,
      input: {
        port: player.port.trim() === '' ? `${name}: play to find its port` : player.port,
        channels: channelsOf(player, given),
      },
    }
    switch (kind) {
      case 'keys':
        return { ...base, kind, bendRange: 2 }
      case 'pads':
        return { ...base, kind, floor: 8, maskMs: 12, crosstalkMs: 5, gateMs: 120, curve: 'linear', pads: [] }
      case 'strings':
        return {
          ...base,
          kind,
          minNoteMs: 20,
          octaveGuardMs: 40,
          bendSmoothMs: 0,
          legato: true,
          bendRange: 12,
        }
    }
  })
}

/** Keys listen to every channel that nobody else on their port has. */
function channelsOf(player: NewPlayer, all: readonly NewPlayer[]): readonly Channel[] {
  if (player.channels.length > 0) return ALL_CHANNELS.filter((channel) => player.channels.includes(channel))
  if (player.kind === 'pads') return PADS_CHANNELS
  if (player.kind === 'strings') return STRINGS_CHANNELS
  const others = all.filter(
    (other) => other !== player && other.kind !== 'keys' && other.port === player.port,
  )
  const taken = new Set(player.port.trim() === '' ? [] : others.flatMap((other) => channelsOf(other, all)))
  const free = ALL_CHANNELS.filter((channel) => !taken.has(channel))
  return free.length > 0 ? free : ALL_CHANNELS
}
