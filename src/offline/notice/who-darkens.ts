import type { Show } from '../../domain/show.ts'
import { gestureWords } from '../sheet/control-words.ts'

/** Everything that darkens every lamp, a line each; who does it is to be written in by hand. */
export function darkLines(show: Show): string[] {
  const controls = show.switching.controls.flatMap(({ player: id, on, do: act }) => {
    const player = show.players.find((one) => one.id === id)
    return act === 'dark' ? [`${player?.name ?? id}: ${gestureWords(on, player)}.`] : []
  })
  return [
    'F8 on the keyboard of any screen, or the Dark key on it: every lamp goes dark at once, in every room of the program.',
    ...(controls.length === 0
      ? ['No player’s instrument darkens the lamps.']
      : controls.map((line) => `On an instrument: ${line}`)),
    'A serial lamp box that hears nothing goes dark by itself within half a second; a MIDI box does not.',
    'A switch that takes the power off the lamps by itself, whatever the program does. Where it is: ____________________',
    'Who darkens: ____________________   Who stands at the power switch: ____________________',
  ]
}
