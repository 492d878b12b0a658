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
  const shutOut = holder ? parts.filter((part) => isShutOut(part, holder)) : []
  if (holder && shutOut.length > 0) {
    const them = group.length === 1 ? 'it' : 'them'
    const message = `${lamps}: part ${holder.id} has an "always" claim, so ${names(shutOut)} never ${shutOut.length === 1 ? 'lights' : 'light'} ${them}. Let it claim while "playing", or give each part its own.`
    return [{ gravity: 'warning', ...place, message }]
  }
  if (parts.every(({ claim }) => !claim)) {
    const message = `${lamps} ${group.length === 1 ? 'is' : 'are'} shared by parts ${names(parts)}, none with a claim: who lights a lamp first keeps it until it goes dark. A claim settles it.`
    return [{ gravity: 'note', ...place, message }]
  }
  return rivals(parts).map((equals) => {
    const latched = equals.some(({ claim }) => claim?.when === 'latched')
    const message = `${lamps} ${group.length === 1 ? 'is' : 'are'} claimed by parts ${names(equals)}, with the same priority: whose claim comes first keeps a lamp${latched ? ', and a latched one until all is made dark' : ''}. Another "priority" settles it.`
    return { gravity: 'note', ...place, message }
  })
}

/** Parts whose claims have the same priority, where there are several. */
function rivals(parts: readonly Part[]): Part[][] {
  const claimants = parts.filter(({ claim }) => claim)
  return [...grouped(claimants, priorityOf).values()].filter((equals) => equals.length > 1)
}

/** A claim that is not there comes after all that are. */
function priorityOf({ claim }: Part): number {
  return claim?.priority ?? -Infinity
}

/** The part with the "always" claim that has the lamp while no claim of more priority takes it: of equals the first in the song's order. */
function alwaysHolder(parts: readonly Part[]): Part | undefined {
  const always = parts.filter(({ claim }) => claim?.when === 'always')
  return always.reduce<Part | undefined>(
    (best, part) => (best && priorityOf(best) >= priorityOf(part) ? best : part),
    undefined,
  )
}

function isShutOut(part: Part, holder: Part): boolean {
  return part !== holder && priorityOf(part) <= priorityOf(holder)
}

function isHidden(part: Part, listers: ReadonlyMap<LampId, readonly Part[]>): boolean {
  return part.lamps.every((lamp) => {
    const holder = alwaysHolder(listers.get(lamp) ?? [])
    return holder !== undefined && isShutOut(part, holder)
  })
}

function hidden(place: FindingPlace): CheckFinding {
  const message = 'this part never lights a lamp: others claim every lamp of it always.'
  return { gravity: 'fault', ...place, message }
}

function names(parts: readonly Part[]): string {
  return listed(parts.map(({ id }) => id))
}
