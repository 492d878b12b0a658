import type { PatternStep } from '../../../src/domain/pattern.ts'
import { percent } from '../wording/figures.ts'
import { noteName } from '../wording/note-name.ts'

/** What a step is, for those who hear it: "C4, accent, sounds 0.5 steps, duty 30 %, chance 40 %", or "rest". */
export function stepWords(step: PatternStep): string {
  if (step === 0) return 'rest'
  const { note, accent, gate, duty, chance } = step
  return [
    noteName(note),
    ...(accent === true ? ['accent'] : []),
    ...(gate === undefined ? [] : [`sounds ${gate} ${gate === 1 ? 'step' : 'steps'}`]),
    ...(duty === undefined ? [] : [`duty ${percent(duty)}`]),
    ...(chance === undefined || chance === 1 ? [] : [`chance ${percent(chance)}`]),
  ].join(', ')
}

/** Where a row stands: "3 of 5"; before its first: "– of 5". */
export function positionWords(at: number | undefined, length: number): string {
  return `${at === undefined || at < 0 ? '–' : at + 1} of ${length}`
}
