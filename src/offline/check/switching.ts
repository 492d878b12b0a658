import type { Player } from '../../domain/player.ts'
import type { Show } from '../../domain/show.ts'
import type { Part, Song } from '../../domain/song.ts'
import type { Control } from '../../domain/switching.ts'
import { songsReached } from '../songs-reached.ts'
import type { CheckFinding, FindingPlace } from './finding.ts'
import { placeAt } from './finding.ts'
import { playedKeyName } from './key-spans.ts'
import { listed } from './listed.ts'
import type { Survey } from './survey.ts'
import { takesKey } from './takes-key.ts'

/** Controls that take something from the playing, or do nothing. */
export function switchingFindings({ show }: Survey): CheckFinding[] {
  return show.switching.controls.flatMap((control, index) => {
    const place = placeAt(['switching', 'controls', index])
    const player = show.players.find(({ id }) => id === control.player)
    return player ? controlFindings(show, control, player, place) : []
  })
}

function controlFindings(show: Show, control: Control, player: Player, place: FindingPlace): CheckFinding[] {
  return [
    ...offChannel(control, player, place),
    ...fromParts(show, control, player, place),
    ...fromPedals(control, player, place),
    ...fromPads(control, player, place),
    ...withoutVariants(show, control, place),
  ]
}

function offChannel(
  { on: { channel } }: Control,
  { id, input }: Player,
  place: FindingPlace,
): CheckFinding[] {
  if (channel === undefined || input.channels.includes(channel)) return []
  const own = listed(input.channels.map(String), 16)
  const message =
    `this control is on channel ${channel}, which player ${id} does not listen to (${own}): done where the player plays, it does nothing. ` +
    "Take one of the player's channels, or leave the channel out."
  return [{ gravity: 'fault', ...place, message }]
}

/** What parts would have played or moved by, had it not become a control. */
function fromParts(show: Show, control: Control, player: Player, place: FindingPlace): CheckFinding[] {
  const { on } = control
  const parts = songsReached(show).flatMap((song) =>
    song.parts.filter((part) => part.player === player.id).map((part) => ({ song, part })),
  )
  if (on.kind === 'note') {
    const deaf = parts.filter(({ song, part }) => takesKey(song, part, on.key))
    if (deaf.length === 0) return []
    const message = `${playedKeyName(player, on.key)} of player ${player.id} is a control, so it is not played any more by ${names(deaf)}. Where that is meant, "notes" of the part may leave it out.`
    return [{ gravity: 'note', ...place, message }]
  }
  if (on.kind !== 'controller') return []
  const still = parts.filter(({ part }) => part.duty.controller === on.controller)
  if (still.length === 0) return []
  const message = `controller ${on.controller} of player ${player.id} is a control, so it does not move the duty any more of ${names(still)}. Take another controller for one of the two.`
  return [{ gravity: 'warning', ...place, message }]
}

function names(parts: readonly { readonly song: Song; readonly part: Part }[]): string {
  return listed(
    parts.map(({ song, part }) => `part ${part.id} of song ${song.id}`),
    3,
  )
}

/** MIDI 1.0 Detailed Specification, table of controllers. Only a keyboard's notes are held by pedals. */
function fromPedals({ on }: Control, { id, kind }: Player, place: FindingPlace): CheckFinding[] {
  if (on.kind !== 'controller' || kind !== 'keys') return []
  switch (on.controller) {
    case 64:
      return [pedal('warning', 'sustain pedal: it holds no note any more', id, on.controller, place)]
    case 66:
      return [pedal('warning', 'sostenuto pedal: it holds no note any more', id, on.controller, place)]
    case 67:
      return [pedal('note', 'soft pedal: who presses it changes songs', id, on.controller, place)]
    default:
      return []
  }
}

function pedal(
  gravity: CheckFinding['gravity'],
  what: string,
  player: string,
  controller: number,
  place: FindingPlace,
): CheckFinding {
  const message = `controller ${controller} of player ${player} is a control, and on most keyboards the ${what}. Where that is not meant, take another controller.`
  return { gravity, ...place, message }
}

function fromPads({ on }: Control, { id, kind }: Player, place: FindingPlace): CheckFinding[] {
  if (on.kind !== 'program' || kind !== 'pads') return []
  const message = `program changes of player ${id} are controls: many pads send one whenever another kit is chosen, which then changes songs.`
  return [{ gravity: 'note', ...place, message }]
}

function withoutVariants(show: Show, control: Control, place: FindingPlace): CheckFinding[] {
  if (control.do !== 'variant' || show.songs.some(({ variantOf }) => variantOf !== undefined)) return []
  const message = 'this control goes to the next variant, and no song has one: it does nothing.'
  return [{ gravity: 'note', ...place, message }]
}
