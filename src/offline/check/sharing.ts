import type { LampId } from '../../domain/ids.ts'
import type { Part, Song } from '../../domain/song.ts'
import type { CheckFinding, FindingPlace } from './finding.ts'
import { grouped } from './grouped.ts'
import { lampsNamed, listed } from './listed.ts'
import type { Survey } from './survey.ts'
import { partPlace } from './survey.ts'

interface Shared {
  readonly lamp: LampId
  readonly parts: readonly Part[]
}

/** Lamps that several parts of a song list: who gets them. */
export function sharingFindings({ songs }: Survey): CheckFinding[] {
  return songs.flatMap(({ song, place }, index) => songFindings(song, place, index))
}

function songFindings(song: Song, place: FindingPlace, songIndex: number): CheckFinding[] {
  const listers = new Map<LampId, Part[]>()
  for (const part of song.parts) {
    for (const lamp of part.lamps) {
      const known = listers.get(lamp)
      if (known) known.push(part)
      else listers.set(lamp, [part])
    }
  }
  const shared = [...listers].flatMap(([lamp, parts]): Shared[] =>
    parts.length < 2 ? [] : [{ lamp, parts }],
  )
  const told = grouped(shared, ({ parts }) => parts.map(({ id }) => id).join(' '))
  return [
    ...[...told.values()].flatMap((group) => sharedBy(place, group)),
    ...song.parts.flatMap((part, index) =>
      isHidden(part, listers) ? [hidden(partPlace(song, songIndex, part, index))] : [],
    ),
  ]
}

function sharedBy(place: FindingPlace, group: readonly Shared[]): CheckFinding[] {
  const parts = group[0]?.parts ?? []
  const lamps = lampsNamed(group.map(({ lamp }) => lamp))
  const holder = alwaysHolder(parts)
  if (holder) {
    const others = parts.filter((part) => part !== holder)
    const message = `${lamps}: part ${holder.id} has an "always" claim, so ${names(others)} never ${others.length === 1 ? 'lights' : 'light'} ${group.length === 1 ? 'it' : 'them'}. Let it claim while "playing", or give each part its own.`
    return [{ gravity: 'warning', ...place, message }]
  }
  const claimants = parts.filter(({ claim }) => claim)
  if (claimants.length === 1) return []
  const message =
    claimants.length === 0
      ? `${lamps} ${group.length === 1 ? 'is' : 'are'} shared by parts ${names(parts)}, none with a claim: who lights a lamp first keeps it until it goes dark. A claim settles it.`
      : `${lamps} ${group.length === 1 ? 'is' : 'are'} claimed by parts ${names(claimants)}: whose claim comes first keeps a lamp${claimants.some(({ claim }) => claim?.when === 'latched') ? ', and a latched one for the rest of the song' : ''}.`
  return [{ gravity: 'note', ...place, message }]
}

/** Of two parts that claim a lamp always, the first in the song's order has it. */
function alwaysHolder(parts: readonly Part[]): Part | undefined {
  return parts.find(({ claim }) => claim?.when === 'always')
}

function isHidden(part: Part, listers: ReadonlyMap<LampId, readonly Part[]>): boolean {
  return part.lamps.every((lamp) => {
    const holder = alwaysHolder(listers.get(lamp) ?? [])
    return holder !== undefined && holder !== part
  })
}

function hidden(place: FindingPlace): CheckFinding {
  const message = 'this part never lights a lamp: others claim every lamp of it always.'
  return { gravity: 'fault', ...place, message }
}

function names(parts: readonly Part[]): string {
  return listed(parts.map(({ id }) => id))
}
