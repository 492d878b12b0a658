import type { NoteId } from '../../src/domain/ids.ts'
import type { Part } from '../../src/domain/song.ts'
import type { Micros } from '../../src/domain/units.ts'
import type { TapEvent } from '../../src/graph/tap.ts'

export interface NoteFates {
  /** Note-ons of the player that the part takes. */
  readonly taken: number
  /** Of them, those that lit a lamp. */
  readonly placed: number
  /** Those that lit none, and why. */
  readonly unplaced: readonly { readonly note: NoteId; readonly at: Micros; readonly why: Why }[]
}

/** `voice`: the part has one voice, and another note, struck with this one, had it. `unknown` is what must not be. */
type Why = 'stolen' | 'refused' | 'voice' | 'unknown'

const ONE_VOICE = ['unison', 'travel', 'partials', 'canon']

/** What became of every note that a part took, from the tap alone. */
export function noteFates(part: Part, events: readonly TapEvent[]): NoteFates {
  const lit = new Set<NoteId>()
  const stolen = new Set<NoteId>()
  const refused = new Set<NoteId>()
  const voiced: Micros[] = []
  const taken: { note: NoteId; at: Micros }[] = []
  const [low, high] = part.notes
  for (const event of events) {
    if (event.kind === 'steal' && event.part === part.id) stolen.add(event.from)
    if (event.kind === 'refused' && event.part === part.id) refused.add(event.note)
    if (event.kind === 'player' && event.player === part.player && event.event.kind === 'note-on') {
      const { key, note } = event.event
      if (key >= low && key <= high) taken.push({ note, at: event.at })
    }
    if (event.kind !== 'frame') continue
    for (const { state } of event.changes) {
      if (!state.on || state.part !== part.id) continue
      lit.add(state.note)
      voiced.push(event.at)
    }
  }
  const whyNot = ({ note, at }: { note: NoteId; at: Micros }): Why => {
    if (stolen.has(note)) return 'stolen'
    if (refused.has(note)) return 'refused'
    // On lamps lit before, the voice comes a gap later.
    const other = voiced.some((time) => time >= at && time <= at + part.gapMs * 1000)
    return ONE_VOICE.includes(part.strategy.kind) && other ? 'voice' : 'unknown'
  }
  const unplaced = taken.filter(({ note }) => !lit.has(note)).map((one) => ({ ...one, why: whyNot(one) }))
  return { taken: taken.length, placed: taken.length - unplaced.length, unplaced }
}
