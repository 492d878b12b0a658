import type { Player } from '../../../src/domain/player.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import type { ControlAct, ControlGesture, EnterAt } from '../../../src/domain/switching.ts'
import { noteName } from './note-name.ts'

/** When a song begins once it was asked for. */
export const ENTER_AT_WORDS: Readonly<Record<EnterAt, string>> = {
  now: 'at once',
  beat: 'on the next beat',
  bar: 'on the next bar',
  release: 'when the notes have ended that sound then',
}

/** What becomes of the light when a song begins. */
export const ENTER_WORDS: Readonly<Record<Song['enter'], { readonly short: string; readonly long: string }>> =
  {
    cut: {
      short: 'cut: all dark, then the song',
      long: 'Every lamp goes dark in that moment; notes still held sound no more.',
    },
    carry: {
      short: 'carry: held notes go on',
      long: 'Notes still held go over to this song’s parts, as far as they have a place there. A lamp on which the same note goes on is not struck again; all others go dark.',
    },
  }

/** How a song that is waited for stands on the Stage, before its title: "next bar". */
export const COMING_WORDS: Readonly<Record<EnterAt, string>> = {
  now: 'now',
  beat: 'next beat',
  bar: 'next bar',
  release: 'when these notes end',
}

/** MIDI 1.0 Detailed Specification, table of controllers. */
const PEDALS: Readonly<Record<number, string>> = {
  64: 'sustain pedal',
  66: 'sostenuto pedal',
  67: 'soft pedal',
}
const STRUCK: Readonly<Record<Player['kind'], string>> = { keys: 'key', pads: 'pad', strings: 'note' }

/** What a player does: "pad C#3 (49), channel 10", "controller 64 (sustain pedal) pressed", "any program change". */
export function gestureWords(on: ControlGesture, kind: Player['kind'] | undefined): string {
  const channel = on.channel === undefined ? '' : `, channel ${on.channel}`
  switch (on.kind) {
    case 'program':
      return `${on.program === undefined ? 'any program change' : `program change ${on.program}`}${channel}`
    case 'controller':
      return `${controllerWords(on.controller)} pressed${channel}`
    case 'note':
      return `${STRUCK[kind ?? 'keys']} ${noteName(on.key)} (${on.key})${channel}`
  }
}

/** "controller 64 (sustain pedal)" */
export function controllerWords(controller: number): string {
  const pedal = PEDALS[controller]
  return `controller ${controller}${pedal === undefined ? '' : ` (${pedal})`}`
}

/** What comes of a control. */
export function actWords({ songs, setList }: Pick<Show, 'songs' | 'setList'>, act: ControlAct): string {
  const titleOf = (id: string): string => songs.find((song) => song.id === id)?.title ?? id
  switch (act) {
    case 'next':
      return 'the next song'
    case 'previous':
      return 'the previous song'
    case 'number':
      return 'the place of the program’s number: program 0 is place 1'
    case 'variant':
      return 'the next variant of the song'
    case 'dark':
      return 'Dark'
    case 'tap':
      return 'a tap of the tempo'
    default:
      if ('song' in act) return `the song ${titleOf(act.song)}`
      if ('tuning' in act)
        return `the tuning ${act.tuning}, ${act.retune ? 'for what sounds as well' : 'for notes to come'}`
      return `place ${act.place}: ${titleOf(setList[act.place - 1] ?? '')}`
  }
}
