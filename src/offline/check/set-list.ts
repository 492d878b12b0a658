import type { Show } from '../../domain/show.ts'
import type { Control } from '../../domain/switching.ts'
import type { CheckFinding } from './finding.ts'
import { placeAt } from './finding.ts'
import type { Survey } from './survey.ts'

/** Set lists that lead nowhere or twice to the same, and how one gets on in them. */
export function setListFindings({ show }: Survey): CheckFinding[] {
  const skipped = new Set(show.songs.filter(({ skip }) => skip).map(({ id }) => id))
  const places = show.setList.filter((id) => !skipped.has(id))
  return [
    ...(places.length === 0 && show.setList.length > 0 ? [allSkipped()] : []),
    ...besideTheirSong(show),
    ...(places.length > 1 && !show.switching.controls.some(goesOn) ? [onScreenOnly()] : []),
  ]
}

function allSkipped(): CheckFinding {
  const message =
    'every song of the set list is skipped, so next and previous go nowhere. Take "skip" off the songs of the night.'
  return { gravity: 'warning', ...placeAt(['setList']), message }
}

/** Variants that stand in the set list beside the song that they are variants of. */
function besideTheirSong({ songs, setList }: Show): CheckFinding[] {
  const listedIds = new Set(setList)
  return songs.flatMap(({ id, variantOf }): CheckFinding[] => {
    if (variantOf === undefined || !listedIds.has(id) || !listedIds.has(variantOf)) return []
    const message = `song ${id} is a variant of ${variantOf}, and both stand in the set list: it comes as a place of its own, and as a variant in the place of ${variantOf}.`
    return [{ gravity: 'note', ...placeAt(['setList']), path: ['setList', setList.indexOf(id)], message }]
  })
}

/** Whether it can lead to a song further on. */
function goesOn({ do: act }: Control): boolean {
  return act === 'next' || act === 'number' || typeof act === 'object'
}

function onScreenOnly(): CheckFinding {
  const message =
    'no control goes on to the next song: only somebody at a screen can. A control gives a player a pedal, a pad or a program change for it.'
  return { gravity: 'note', ...placeAt(['switching']), message }
}
