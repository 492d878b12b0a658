import type { PatternStep, StruckStep } from '../../../src/domain/pattern.ts'
import { accented, inOctave, movedNote } from './step-edits.ts'

interface Pressed {
  readonly key: string
  readonly ctrlKey: boolean
  readonly metaKey: boolean
  readonly altKey: boolean
}

/** What a key of the keyboard makes of a step; undefined: it is about no step. `last`: the note that was used last, which a rest sounds first. */
export function stepKey(
  { key, ctrlKey, metaKey, altKey }: Pressed,
  last: () => StruckStep,
): ((step: PatternStep) => PatternStep) | undefined {
  if (ctrlKey || metaKey || altKey) return undefined
  if (key === 'Delete' || key === 'Backspace') return () => 0
  const change = changeBy(key)
  if (!change) return undefined
  const isAccent = change === accented
  return (step) => (step !== 0 ? change(step) : isAccent ? 0 : last())
}

function changeBy(key: string): ((step: StruckStep) => StruckStep) | undefined {
  switch (key) {
    case '+':
    case '=':
      return (step) => movedNote(step, 1)
    case '-':
    case '_':
      return (step) => movedNote(step, -1)
    case 'PageUp':
      return (step) => movedNote(step, 12)
    case 'PageDown':
      return (step) => movedNote(step, -12)
    case 'a':
    case 'A':
      return accented
    default:
      return /^\d$/.test(key) ? (step) => inOctave(step, Number(key)) : undefined
  }
}
