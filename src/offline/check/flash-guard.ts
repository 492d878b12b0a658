import type { FlashGuard } from '../../domain/flash-guard.ts'
import { SEEN_STEADY_HZ } from '../../domain/flash-guard.ts'
import type { Lamp, Supply } from '../../domain/rig.ts'
import type { Show } from '../../domain/show.ts'
import { glowLight } from '../../tuning/glow-light.ts'
import { foldOf } from '../../tuning/unseen.ts'
import { lampsOf, limitWatts, wattsOf } from './can-glow.ts'
import type { CheckFinding } from './finding.ts'
import { placeAt } from './finding.ts'
import { grouped } from './grouped.ts'
import { counted, figure, lampsNamed } from './listed.ts'
import type { Survey, SurveyedSong } from './survey.ts'

/** What the flash guard cannot do in this show, and since when it is off. */
export function flashGuardFindings({ show, songs }: Survey): CheckFinding[] {
  return [
    ...offFindings(show),
    ...songs.flatMap((song) => [...glowFindings(show, song), ...noOctaveFinding(song)]),
  ]
}

function offFindings({ guards, songs }: Show): CheckFinding[] {
  const off = (guard: FlashGuard | undefined, place: ReturnType<typeof placeAt>): CheckFinding[] => {
    if (guard?.action !== 'off') return []
    const message = `the flash guard is off since ${guard.since}: flashes are counted, but nobody is told while it plays, and nothing is held back. Whoever turned it off should know why; "warn" tells again.`
    return [{ gravity: 'warning', ...place, message }]
  }
  return [
    ...off(guards.flash, placeAt(['guards', 'flash'])),
    ...songs.flatMap(({ id, flash }, index) =>
      off(flash, { where: `song ${id}`, path: ['songs', index, 'flash'] }),
    ),
  ]
}

function glowFindings({ rig }: Show, { guard, place, parts }: SurveyedSong): CheckFinding[] {
  if (guard.action !== 'glow') return []
  const used = lampsOf(parts)
  const dark = used.filter(({ lamp, output }) => !glowLight(lamp, output, guard.hz))
  const without = [...grouped(dark, ({ output }) => output)].map(([output, group]): CheckFinding => {
    const why =
      output.kind === 'midi'
        ? `output ${output.id} is MIDI, whose keys end below where hearing does`
        : `the timer of output ${output.id} makes nothing above 20000 Hz of ${figure(guard.hz)} Hz`
    const message = `${lampsNamed(group.map(({ lamp }) => lamp.id))} ${group.length === 1 ? 'goes' : 'go'} dark between notes all the same: ${why}. Their flashes are counted as without a flash guard.`
    return { gravity: 'warning', ...place, message }
  })
  const lit = used.filter((one) => !dark.includes(one)).map(({ lamp }) => lamp)
  return [...without, ...rig.supplies.flatMap((supply) => tightSupply(supply, lit, place))]
}

/** Glowing lamps give way to notes where a supply cannot hold both. */
function tightSupply(supply: Supply, lamps: readonly Lamp[], place: SurveyedSong['place']): CheckFinding[] {
  const on = lamps.filter((lamp) => lamp.supply === supply.id)
  const watts = wattsOf(supply, on)
  const limit = limitWatts(supply)
  if (watts <= limit) return []
  const message = `the ${counted(on.length, 'lamp')} of supply ${supply.id} that the flash guard keeps lit draw ${figure(watts / supply.volts, 3)} A together, and its limit is ${figure(limit / supply.volts, 3)} A: some go dark for notes, and that is a flash again. Use a larger supply, or fewer lamps.`
  return [{ gravity: 'warning', ...place, message }]
}

/** A rate is moved up by octaves until it is above 60 Hz: a lamp whose range ends before the next octave has none for it. */
function noOctaveFinding({ guard, place, parts }: SurveyedSong): CheckFinding[] {
  if (!foldOf(guard)) return []
  const lamps = lampsOf(parts).map(({ lamp }) => lamp)
  const none = lamps.filter(({ highHz }) => highHz < SEEN_STEADY_HZ).map(({ id }) => id)
  const some = lamps
    .filter(({ highHz }) => highHz >= SEEN_STEADY_HZ && highHz < 2 * SEEN_STEADY_HZ)
    .map(({ id }) => id)
  return [
    ...(none.length === 0
      ? []
      : [
          {
            gravity: 'fault' as const,
            ...place,
            message: `${lampsNamed(none)} never ${none.length === 1 ? 'lights' : 'light'} in this song: the flash guard (${guard.action}) leaves no rate under ${SEEN_STEADY_HZ} Hz, and highHz is lower. Raise it, leave the lamps out, or have another guard.`,
          },
        ]),
    ...(some.length === 0
      ? []
      : [
          {
            gravity: 'warning' as const,
            ...place,
            message: `${lampsNamed(some)} ${some.length === 1 ? 'has' : 'have'} less than an octave from ${SEEN_STEADY_HZ} Hz up, all that the flash guard (${guard.action}) leaves: notes and pulses with no octave there stay dark. Raise highHz, or have another guard.`,
          },
        ]),
  ]
}
