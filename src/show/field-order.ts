/** The order in which fields are written: who it is first, then as a person would tell it. */
const ORDER: readonly string[] = `
  format version id name title kind
  rig supplies outputs lamps thru players tunings songs setList switching clock guards
  volts maxAmps usable
  input port channels baud timer clockHz prescalers bits
  layout firstChannel firstNote bendRange bendBits dutyController mts form program device offsetMs
  output slot supply watts heat meanWatts x y lowHz highHz minDuty maxDuty trimCents delayMs
  to pass channel controllers from
  floor maskMs crosstalkMs gateMs curve pads mode minNoteMs octaveGuardMs bendSmoothMs legato
  steps periodCents pitches map first last middle formalOctave degrees refNote refHz bank base
  tempo beats tuning wander enter enterAt variantOf skip minutes takes notes parts patterns
  advance division swing gate accentTimes rows row lamp muted
  controls on do follow send afterSleep key song place retune
  player strategy transpose notes note duty accent chance controller velocity keys sweepSeconds low high
  glide vibrato pulse ms cents hz centsPerSecond delayMs ratio bpm seconds seed
  claim when releaseMs priority onLost gapMs flash action changes since
`
  .trim()
  .split(/\s+/)

const RANKS = new Map(ORDER.map((name, rank) => [name, rank]))

/** Where a field stands among its siblings; what has no place of its own (strategy options) comes last. */
export function fieldRank(name: string): number {
  return RANKS.get(name) ?? ORDER.length
}

/** The fields that have a place of their own. */
export const ORDERED_FIELDS: ReadonlySet<string> = new Set(ORDER)
