import type { TuningId } from '../../domain/ids.ts'
import type { Show } from '../../domain/show.ts'
import type { CheckFinding } from './finding.ts'
import { placeAt } from './finding.ts'
import type { Survey } from './survey.ts'

/** Tunings that nothing comes to, those of songs that are never heard, and those that nobody knows beforehand. */
export function tuningUseFindings({ show, songs }: Survey): CheckFinding[] {
  const used = usedTunings(show)
  return [
    ...songs.flatMap(({ song, place }): CheckFinding[] => {
      const isHeard =
        song.parts.length === 0 || song.parts.some(({ tuning }) => (tuning ?? song.tuning) === song.tuning)
      if (isHeard) return []
      const message = `its tuning ${song.tuning} is never heard, nor is one that is chosen for it while it plays: each of its parts has a "tuning" of its own. Take one of those out where that is not meant.`
      return [{ gravity: 'note', ...place, message }]
    }),
    ...show.tunings.flatMap((tuning, index): CheckFinding[] => {
      const place = placeAt(['tunings', index])
      if (!used.has(tuning.id)) {
        const message = `no song, part or control comes to tuning ${tuning.id}, and none that is used is based on it: only a screen can choose it.`
        return [{ gravity: 'note', ...place, message }]
      }
      if (tuning.kind !== 'received') return []
      const message =
        `tuning ${tuning.id} is what player ${tuning.player} sends (MIDI Tuning Standard, program ${tuning.program}). Until that comes it is tuning ${tuning.base}, and so it is in every figure told here: ` +
        'what will be sent nobody knows beforehand.'
      return [{ gravity: 'note', ...place, message }]
    }),
  ]
}

/** Those of songs, parts and controls, and what used ones are based on. */
function usedTunings({ songs, tunings, switching }: Show): ReadonlySet<TuningId> {
  const used = new Set<TuningId>([
    ...songs.flatMap(({ tuning, parts }) => [tuning, ...parts.flatMap((part) => part.tuning ?? [])]),
    ...switching.controls.flatMap(({ do: act }) =>
      typeof act === 'object' && 'tuning' in act ? [act.tuning] : [],
    ),
  ])
  for (const tuning of tunings) if (tuning.kind === 'received' && used.has(tuning.id)) used.add(tuning.base)
  return used
}
