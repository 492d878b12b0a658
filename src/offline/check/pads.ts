import type { Pad, PadsPlayer } from '../../domain/player.ts'
import type { Show } from '../../domain/show.ts'
import { songsReached } from '../songs-reached.ts'
import type { CheckFinding, FindingPlace } from './finding.ts'
import { placeAt } from './finding.ts'
import { playedKeyName } from './key-spans.ts'
import type { Survey } from './survey.ts'
import { takesKey } from './takes-key.ts'

/**
 * How much of a snare's strokes comes so soon after the one before: Groove MIDI Dataset (Gillick, Roberts, Engel, Eck, Bamman, "Learning to Groove with
 * Inverse Sequence Transformations", ICML 2019), all its 446,312 hits, those on note 38.
 */
const FLAMS = [
  { ms: 30, share: '3.14 %', gravity: 'warning' },
  { ms: 20, share: '0.88 %', gravity: 'note' },
] as const

/** Pads set so that they lose what was meant, and pads that nobody hears. */
export function padFindings({ show }: Survey): CheckFinding[] {
  return show.players.flatMap((player, index) => {
    if (player.kind !== 'pads') return []
    const way = ['players', index] as const
    return [
      ...maskFindings(player.maskMs, `the bounce time of player ${player.id}`, placeAt([...way, 'maskMs'])),
      ...player.pads.flatMap((pad, place) => {
        const own = [...way, 'pads', place]
        return [
          ...maskFindings(pad.maskMs ?? 0, `the bounce time of pad ${pad.name}`, placeAt([...own, 'maskMs'])),
          ...unheard(show, player, pad, placeAt(own)),
          ...sameName(player, pad, place, placeAt([...own, 'name'])),
        ]
      }),
    ]
  })
}

function maskFindings(maskMs: number, what: string, place: FindingPlace): CheckFinding[] {
  const flams = FLAMS.find(({ ms }) => maskMs >= ms)
  if (!flams) return []
  const message =
    `${what} is ${maskMs} ms: real flams are taken for bounces. Of recorded snare strokes ${flams.share} come within ${flams.ms} ms of the one before ` +
    '(Groove MIDI Dataset). 12 ms is usual (common practice, no source).'
  return [{ gravity: flams.gravity, ...place, message }]
}

/** A player without any part is told of as unused. */
function unheard(show: Show, player: PadsPlayer, pad: Pad, place: FindingPlace): CheckFinding[] {
  const parts = songsReached(show).flatMap((song) =>
    song.parts.filter((part) => part.player === player.id).map((part) => ({ song, part })),
  )
  const isControl = show.switching.controls.some(
    (control) => control.player === player.id && control.on.kind === 'note' && control.on.key === pad.key,
  )
  if (parts.length === 0 || isControl || parts.some(({ song, part }) => takesKey(song, part, pad.key)))
    return []
  const message = `pad ${playedKeyName(player, pad.key)} of player ${player.id} is in the keys of no part and is no control: hits there do nothing.`
  return [{ gravity: 'note', ...place, message }]
}

function sameName({ id, pads }: PadsPlayer, pad: Pad, at: number, place: FindingPlace): CheckFinding[] {
  const first = pads.findIndex(({ name }) => name === pad.name)
  if (first === at) return []
  const message = `two pads of player ${id} are called ${pad.name}, keys ${pads[first]?.key} and ${pad.key}: where they are named nobody can tell which.`
  return [{ gravity: 'note', ...place, message }]
}
