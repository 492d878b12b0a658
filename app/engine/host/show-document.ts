import type { ShowChange } from '../../../src/contract/to-host.ts'
import type { Show } from '../../../src/domain/show.ts'
import { parseShow } from '../../../src/show/parse-show.ts'
import type { ShowFault } from '../../../src/show/show-fault.ts'
import { faultWords } from '../../../src/show/show-fault.ts'
import { formatShow } from '../../../src/show/write-show.ts'
import { strategies } from '../../../src/strategies/registry.ts'
import type { EditFault } from './apply-change.ts'
import { applyChanges } from './apply-change.ts'
import { UndoSteps } from './undo-steps.ts'

export interface Edit {
  /** The revision that the editor saw. */
  readonly base: number
  /** For undo. */
  readonly label: string
  readonly changes: readonly ShowChange[]
}

export type Edited =
  /** `isNew`: the show is another than before. */
  | { readonly ok: true; readonly isNew: boolean }
  | { readonly ok: false; readonly faults: readonly EditFault[] }

/** More are not told; the first show what is wrong. */
const MOST_FAULTS = 100

/** A show that is being edited: always valid and complete, with the way back and forth, and what of it has been saved. */
export class ShowDocument {
  #show: Show
  #text: string
  #revision: number
  #saved: string | undefined
  #file: string | null
  readonly #steps = new UndoSteps()

  /** `revision`: of the show before it, which is not used again. `file`: where it was read from. */
  constructor(
    show: Show,
    { revision, file, isSaved }: { revision: number; file: string | null; isSaved: boolean },
  ) {
    this.#show = show
    this.#text = formatShow(show)
    this.#revision = revision + 1
    this.#file = file
    this.#saved = isSaved ? this.#text : undefined
  }

  get show(): Show {
    return this.#show
  }
  /** The canonical text of the show's file. */
  get text(): string {
    return this.#text
  }
  get revision(): number {
    return this.#revision
  }
  get file(): string | null {
    return this.#file
  }
  /** Whether the show is what was last saved; an undo can make it so again. */
  get isSaved(): boolean {
    return this.#text === this.#saved
  }
  get undoLabel(): string | null {
    return this.#steps.undoLabel
  }
  get redoLabel(): string | null {
    return this.#steps.redoLabel
  }

  /**
   * Does all of the edit or nothing. `now`: milliseconds of any clock that does not run back; single changes of one place under one label that follow each
   * other within a second and a half are one step to undo.
   */
  edit({ base, label, changes }: Edit, now: number): Edited {
    if (base !== this.#revision) {
      const message =
        'the show was changed meanwhile, by another screen or before this one heard of it; look at it again, and do it again'
      return { ok: false, faults: [{ path: '$', message }] }
    }
    const applied = applyChanges(this.#show, changes)
    if (!applied.ok) return { ok: false, faults: [applied.fault] }
    // Only the parser can say whether it is a show; the writer writes any JSON value.
    const parsed = parseShow(formatShow(applied.value as Show), strategies)
    if (!parsed.ok) return { ok: false, faults: parsed.faults.slice(0, MOST_FAULTS).map(editFault) }
    const before = this.#text
    const isNew = this.#become(parsed.show)
    const [only] = changes
    const sameness =
      changes.length === 1 && only?.do === 'set' ? JSON.stringify([label, only.path]) : undefined
    if (isNew)
      this.#steps.did({ label, before, at: now, ...(sameness === undefined ? {} : { sameness }) }, this.#text)
    return { ok: true, isNew }
  }

  /** Whether there was anything to undo. */
  undo(): boolean {
    return this.#goTo(this.#steps.undo(this.#text))
  }

  /** Whether there was anything to redo. */
  redo(): boolean {
    return this.#goTo(this.#steps.redo(this.#text))
  }

  /** `text` is in `file` now. */
  saved(file: string, text: string): void {
    this.#file = file
    this.#saved = text
    // So that an undo leads back to what was saved.
    this.#steps.settle()
  }

  #goTo(text: string | undefined): boolean {
    if (text === undefined) return false
    const parsed = parseShow(text, strategies)
    if (!parsed.ok) throw new Error('a show that was valid is so no longer')
    this.#become(parsed.show)
    return true
  }

  #become(show: Show): boolean {
    const text = formatShow(show)
    if (text === this.#text) return false
    this.#show = show
    this.#text = text
    this.#revision += 1
    return true
  }
}

function editFault(fault: ShowFault): EditFault {
  return { path: fault.path, message: faultWords(fault) }
}
