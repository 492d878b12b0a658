import type { Show } from '../../src/domain/show.ts'
import { pitchRows } from '../../src/offline/pitch-rows.ts'
import { demoShow } from './demo.ts'
import type { HostWord } from './house-words.ts'

type TuningWord = Extract<HostWord, { type: 'tuning' }>

/** What a host answers of a part: every key on every lamp. */
export function tuningWords(
  song: string,
  part: string,
  { show = demoShow(), revision = 1 }: { readonly show?: Show; readonly revision?: number } = {},
): TuningWord {
  const lamps = pitchRows(show, song, part)
  if (!lamps) throw new Error(`the show has no part ${part} in a song ${song}`)
  const rows = lamps.map((one) => ({ lamp: one.lamp, rows: [...one.rows] }))
  return { type: 'tuning', revision, song, part, lamps: rows }
}
