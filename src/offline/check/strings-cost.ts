import type { StringsPlayer } from '../../domain/player.ts'
import { midiKeyToHz } from '../../domain/pitch.ts'
import { stringsCost } from '../../domain/strings-cost.ts'
import type { CheckFinding } from './finding.ts'
import { placeAt } from './finding.ts'
import { figure } from './listed.ts'
import type { Survey } from './survey.ts'

/** The lowest open string of a four-string bass, E1, and its period: what a converter has to see of a string before it can know the pitch. */
const LOW_E_HZ = midiKeyToHz(28)
const PERIOD_MS = 1000 / LOW_E_HZ

/** What the conditioning of a string instrument costs at worst: how much later it is heard, and what is not heard at all. */
export function stringsCostFindings({ show: { players, songs } }: Survey): CheckFinding[] {
  const playing = new Set(songs.flatMap(({ parts }) => parts.map((part) => part.player)))
  return players.flatMap((player, index): CheckFinding[] =>
    player.kind === 'strings' && playing.has(player.id) && costs(player)
      ? [{ gravity: 'note', ...placeAt(['players', index]), message: words(player) }]
      : [],
  )
}

function costs({ minNoteMs, octaveGuardMs, bendSmoothMs }: StringsPlayer): boolean {
  return minNoteMs > 0 || octaveGuardMs > 0 || bendSmoothMs > 0
}

function words(player: StringsPlayer): string {
  const { minNoteMs, octaveGuardMs, bendSmoothMs } = player
  const { onset, end, bend, evenBend } = stringsCost(player)
  const sentences = [
    minNoteMs > 0 &&
      `every note of ${player.name} begins ${figure(onset)} ms after the converter says it, and one shorter than that is never heard (minNoteMs)`,
    octaveGuardMs > 0 &&
      `an end is up to ${figure(end)} ms late, and the same key or its octave within ${figure(octaveGuardMs)} ms of an onset is no note of its own (octaveGuardMs)`,
    bendSmoothMs > 0 &&
      `a bend is up to ${figure(bend)} ms late, ${figure(evenBend)} ms where it moves evenly (bendSmoothMs)`,
    minNoteMs > 0 &&
      `the converter itself needs a period or two of the string, ${figure(PERIOD_MS)} to ${figure(2 * PERIOD_MS)} ms on a low E of ${figure(LOW_E_HZ)} Hz: ` +
        `there a note may be ${figure(2 * PERIOD_MS + onset)} ms late in all. A lower minNoteMs is heard sooner and lets more ghosts through`,
  ]
  const said = sentences.filter((one) => one !== false)
  return (
    said.map((one, place) => (place === 0 ? one : one.charAt(0).toUpperCase() + one.slice(1))).join('. ') +
    '.'
  )
}
