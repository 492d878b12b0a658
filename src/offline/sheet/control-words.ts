import type { Player } from '../../domain/player.ts'
import type { Show } from '../../domain/show.ts'
import type { Control, ControlGesture } from '../../domain/switching.ts'
import { playedKeyName } from '../check/key-spans.ts'
import type { Piece } from './html.ts'
import { named } from './html.ts'

/** MIDI 1.0 Detailed Specification, table of controllers. */
const PEDALS: Readonly<Record<number, string>> = { 64: 'sustain', 66: 'sostenuto', 67: 'soft' }
const STRUCK: Readonly<Record<Player['kind'], string>> = { keys: 'key', pads: 'pad', strings: 'note' }

/** What a player does to work a control: "pad C#3 (49), channel 10". `program`: which one, where the control takes any. */
export function gestureWords(
  on: ControlGesture,
  player: Player | undefined,
  program = programOf(on),
): string {
  const channel = on.channel === undefined ? '' : `, channel ${on.channel}`
  switch (on.kind) {
    case 'program':
      return `${program === undefined ? 'any program change' : `program change ${program}`}${channel}`
    case 'controller': {
      const pedal = PEDALS[on.controller]
      return `press ${pedal === undefined ? '' : `the ${pedal} pedal, `}controller ${on.controller}${channel}`
    }
    case 'note':
      return `${STRUCK[player?.kind ?? 'keys']} ${playedKeyName(player, on.key)}${channel}`
  }
}

function programOf(on: ControlGesture): number | undefined {
  return on.kind === 'program' ? on.program : undefined
}

/** What comes of a control. */
export function actWords(show: Show, act: Control['do']): Piece {
  switch (act) {
    case 'next':
      return 'the next song of the set list'
    case 'previous':
      return 'the previous song of the set list'
    case 'number':
      return 'the place of its number: program change 0 is place 1, and so on'
    case 'variant':
      return 'the next variant of the song that plays, and round again'
    case 'dark':
      return 'every lamp dark'
    case 'tap':
      return 'a tap of the song’s tempo'
    default:
      if ('song' in act) return named(titleOf(show, act.song))
      if ('tuning' in act)
        return `the tuning ${act.tuning}, ${act.retune ? 'for what sounds as well' : 'for notes to come'}`
      return [`place ${act.place}, `, named(titleOf(show, show.setList[act.place - 1] ?? ''))]
  }
}

export function titleOf(show: Show, id: string): string {
  return show.songs.find((song) => song.id === id)?.title ?? id
}
