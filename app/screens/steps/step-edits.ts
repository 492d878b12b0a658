import type { PatternStep, StruckStep } from '../../../src/domain/pattern.ts'
import type { MakeEdit } from '../sheet/edit.ts'
import { set } from '../sheet/edit.ts'
import { noteName } from '../wording/note-name.ts'
import type { RowPlace } from './pattern-place.ts'
import { onRow } from './pattern-place.ts'

/** One step of a row, counted from 0. Nothing where the row has become too short for it, or it stands so already. */
export function setStep(where: RowPlace, index: number, step: PatternStep): MakeEdit {
  return paintSteps(where, [index], step)
}

/** One step made into what `change` makes of it as it stands when the edit leaves: keys may come faster than shows do. */
export function changeStep(
  where: RowPlace,
  index: number,
  change: (step: PatternStep) => PatternStep,
): MakeEdit {
  return (show) =>
    onRow(where, ({ row }) => {
      const step = row.steps[index]
      return step === undefined ? undefined : setStep(where, index, change(step))(show)
    })(show)
}

/** Several steps of a row made the same; those that the row has not are left out. */
export function paintSteps(where: RowPlace, indexes: readonly number[], step: PatternStep): MakeEdit {
  return onRow(where, ({ row, rowPath, name }) => {
    const own = [...new Set(indexes)].filter(
      (index) => index in row.steps && !isSameStep(row.steps[index] ?? 0, step),
    )
    const [first] = own
    if (first === undefined) return undefined
    const which = own.length === 1 ? `Step ${first + 1}` : `${own.length} steps`
    return {
      label: `${which} of ${name}: ${step === 0 ? 'rest' : noteName(step.note)}`,
      changes: own.map((index) => set([...rowPath, 'steps', index], step)),
    }
  })
}

/** A field of a step that is a note; undefined: as the pattern or the part has it. */
export function setStepField<Field extends keyof StruckStep>(
  where: RowPlace,
  index: number,
  field: Field,
  value: StruckStep[Field] | undefined,
): MakeEdit {
  return onRow(where, ({ row, rowPath, name }) => {
    const step = row.steps[index]
    if (step === undefined || step === 0) return undefined
    const { [field]: before, ...rest } = step
    if (before === value) return undefined
    const next = value === undefined ? rest : { ...rest, [field]: value }
    return {
      label: `${field === 'note' ? 'Note' : field} of step ${index + 1} of ${name}`,
      changes: [set([...rowPath, 'steps', index], next)],
    }
  })
}

/** So many semitones up or down, as far as there are keys; a step is never moved from its note by halves. */
export function movedNote(step: StruckStep, semitones: number): StruckStep {
  const note = step.note + semitones
  return note < 0 || note > 127 ? step : { ...step, note }
}

/** The same note of the scale in the octave that is counted from middle C as C4; as it was where there is no such key. */
export function inOctave(step: StruckStep, octave: number): StruckStep {
  const note = 12 * (octave + 1) + (step.note % 12)
  return note < 0 || note > 127 ? step : { ...step, note }
}

export function accented(step: StruckStep): StruckStep {
  const { accent, ...rest } = step
  return accent === true ? rest : { ...rest, accent: true }
}

export function isSameStep(a: PatternStep, b: PatternStep): boolean {
  if (a === 0 || b === 0) return a === b
  return (
    a.note === b.note &&
    a.duty === b.duty &&
    a.gate === b.gate &&
    (a.accent ?? false) === (b.accent ?? false) &&
    (a.chance ?? 1) === (b.chance ?? 1)
  )
}
