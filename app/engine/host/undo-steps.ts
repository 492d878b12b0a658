/** One thing that was done: its name for the person, and the show's text before it. */
export interface UndoStep {
  readonly label: string
  readonly before: string
  /** Equal steps that follow soon become one; absent: this one stays alone. */
  readonly sameness?: string
  /** Milliseconds, when it was last done. */
  readonly at: number
}

/** So many steps can be undone. */
export const MOST_STEPS = 500
/** Texts held for it, in UTF-16 units: a long show is undone fewer times, but always once. */
const MOST_TEXT = 64_000_000
/** A slider that is dragged says something much more often. */
const SOON_MS = 1_500

/** What can be undone and redone. Texts only: it knows nothing of what they mean. */
export class UndoSteps {
  #undo: UndoStep[] = []
  /** `before` of these: the text to go back to when they are redone. */
  #redo: UndoStep[] = []
  #text = 0

  get undoLabel(): string | null {
    return this.#undo.at(-1)?.label ?? null
  }

  get redoLabel(): string | null {
    return this.#redo.at(-1)?.label ?? null
  }

  /** Something was done to what was `step.before` and is `after` now. */
  did(step: UndoStep, after: string): void {
    this.#redo = []
    const last = this.#undo.at(-1)
    const isSame =
      last?.sameness !== undefined && last.sameness === step.sameness && step.at - last.at <= SOON_MS
    if (isSame) this.#drop()
    const whole = isSame ? { ...step, before: last.before } : step
    // Dragged away and back again: nothing was done.
    if (whole.before !== after) this.#push(whole)
  }

  /** The text to go back to from `now`; undefined: there is nothing to undo. */
  undo(now: string): string | undefined {
    const step = this.#drop()
    if (!step) return undefined
    this.#redo.push({ label: step.label, before: now, at: step.at })
    this.settle()
    return step.before
  }

  redo(now: string): string | undefined {
    const step = this.#redo.pop()
    if (!step) return undefined
    this.#push({ label: step.label, before: now, at: step.at })
    return step.before
  }

  /** What comes next is a step of its own, however like the last. */
  settle(): void {
    const last = this.#undo.at(-1)
    if (last) this.#undo[this.#undo.length - 1] = { label: last.label, before: last.before, at: last.at }
  }

  #push(step: UndoStep): void {
    this.#undo.push(step)
    this.#text += step.before.length
    while (this.#undo.length > MOST_STEPS || (this.#text > MOST_TEXT && this.#undo.length > 1)) {
      this.#text -= this.#undo.shift()?.before.length ?? 0
    }
  }

  #drop(): UndoStep | undefined {
    const step = this.#undo.pop()
    this.#text -= step?.before.length ?? 0
    return step
  }
}
