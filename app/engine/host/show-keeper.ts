import { readFile } from 'node:fs/promises'
import { resolve } from 'node:path'
import type { Show } from '../../../src/domain/show.ts'
import type { NewShowAnswers } from '../../../src/show/new-show-answers.ts'
import { newShow } from '../../../src/show/new-show.ts'
import { formatShow } from '../../../src/show/write-show.ts'
import type { Supervisor } from '../supervisor.ts'
import type { EditFault } from './apply-change.ts'
import { fileTrouble } from './file-trouble.ts'
import type { Settings } from './settings.ts'
import type { Edit } from './show-document.ts'
import { ShowDocument } from './show-document.ts'
import { openShowFile, readShowText, writeShowFile } from './show-file.ts'

export interface ShowKeeperOptions {
  readonly supervisor: Pick<Supervisor, 'load' | 'revise'>
  readonly settings: Settings
  /** What the person wants for shows that are opened; left out: the rig's own lamps, once the cautions are read. */
  readonly rig?: Rig
  /** Files of the demo. */
  readonly demo: { readonly show: string; readonly take: string }
  /** Milliseconds of a clock that never goes back. */
  readonly now: () => number
  /** What plays now. */
  readonly playing: () => { readonly song: string; readonly position: number | null } | undefined
  /** The show, or something about it, is another. */
  readonly changed: () => void
  /** Something that a person should know of. */
  readonly note: (message: string) => void
}

export type Rig = 'real' | 'virtual'

interface OpenShow {
  readonly document: ShowDocument
  rig: Rig
  /** Of its file as it was last read or written. */
  stamp?: string | undefined
  /** What players in memory play, where it is the demo; a Standard MIDI File in base64. */
  readonly take?: string | undefined
}

/** Why something was not done, in words; undefined: it was. */
export type Trouble = string | undefined

const NO_SHOW = 'no show is open'

/** Keeps the show that is open: edits it, opens others in its place, saves it, and has the engine play it. */
export class ShowKeeper {
  readonly #options: ShowKeeperOptions
  #open: OpenShow | undefined
  /** What the person wants for shows that are opened. */
  #wish: Rig
  /** One file after the other, in the order they were asked for. */
  #files: Promise<unknown> = Promise.resolve()

  constructor(options: ShowKeeperOptions) {
    this.#options = options
    this.#wish = options.rig ?? 'real'
  }

  get document(): ShowDocument | undefined {
    return this.#open?.document
  }
  get rig(): Rig {
    return this.#open?.rig ?? 'virtual'
  }
  /** Players in memory play: only to lamps in memory, real ones light for people. */
  get isDemo(): boolean {
    return this.#open?.take !== undefined && this.#open.rig === 'virtual'
  }

  edit(edit: Edit): readonly EditFault[] {
    const { document } = this
    if (!document) return [{ path: '$', message: NO_SHOW }]
    const edited = document.edit(edit, this.#options.now())
    if (!edited.ok) return edited.faults
    if (edited.isNew) this.#options.supervisor.revise(document.text)
    this.#options.changed()
    return []
  }

  undo(): void {
    this.#stepped(this.document?.undo())
  }

  redo(): void {
    this.#stepped(this.document?.redo())
  }

  openFile(path: string): Promise<Trouble> {
    return this.#queued(async () => {
      const opened = await openShowFile(path)
      if (!opened.ok) return opened.message
      for (const note of opened.notes) this.#options.note(`${opened.path}: ${note}`)
      const { show, stamp } = opened
      const document = this.#documentOf(show, opened.path, opened.notes.length === 0)
      this.#options.settings.opened(opened.path)
      this.#play({ document, rig: this.#usualRig(), stamp })
      return undefined
    })
  }

  openText(name: string, text: string): Promise<Trouble> {
    // In turn with files, so that what was asked for last is what is open in the end.
    return this.#queued(async () => {
      const read = readShowText(text)
      if (!read.ok) return `${name}: ${read.message}`
      for (const note of read.notes) this.#options.note(`${name}: ${note}`)
      this.#play({
        document: this.#documentOf(read.show, null, read.notes.length === 0),
        rig: this.#usualRig(),
      })
      return undefined
    })
  }

  openDemo(): Promise<Trouble> {
    return this.#queued(async () => {
      const { demo } = this.#options
      const opened = await openShowFile(demo.show)
      if (!opened.ok) return opened.message
      try {
        const take = (await readFile(demo.take)).toString('base64')
        this.#play({ document: this.#documentOf(opened.show, null, true), rig: 'virtual', take })
        return undefined
      } catch (error) {
        return `${demo.take}: ${fileTrouble(error)}`
      }
    })
  }

  newShow(answers: NewShowAnswers): Promise<Trouble> {
    return this.#queued(async () => {
      // Read as from a file, so that nothing is played that could not be opened again.
      const read = readShowText(formatShow(newShow(answers)))
      if (!read.ok) return read.message
      const rig = answers.wiring.kind === 'virtual' ? 'virtual' : this.#usualRig()
      this.#play({ document: this.#documentOf(read.show, null, false), rig })
      return undefined
    })
  }

  /** `mayReplace`: whether the person was asked before another file of that name is replaced. The path it is saved at, or why not. */
  save(
    path: string | undefined,
    mayReplace: boolean,
  ): Promise<{ readonly file: string } | { readonly why: string }> {
    const open = this.#open
    if (!open) return Promise.resolve({ why: NO_SHOW })
    const { document } = open
    // As it is now, whatever is done to it until the disk has it.
    const { text } = document
    return this.#queued(async () => {
      const given = path ?? document.file
      if (given === null) return { why: 'this show has no file yet; choose where to save it' }
      const known = resolve(given) === document.file ? open.stamp : undefined
      const written = await writeShowFile(given, text, { known, mayReplace })
      if (!written.ok) return { why: written.message }
      open.stamp = written.stamp
      document.saved(written.path, text)
      this.#options.settings.opened(written.path)
      this.#options.changed()
      return { file: written.path }
    })
  }

  setRig(rig: Rig): Trouble {
    if (rig === 'real' && !this.#options.settings.areCautionsRead) {
      return 'the cautions come first: read them, then light the real lamps'
    }
    this.#wish = rig
    if (!this.#open) return NO_SHOW
    if (this.#open.rig === rig) return undefined
    this.#open.rig = rig
    this.#load(this.#open, this.#options.playing())
    this.#options.changed()
    return undefined
  }

  /** Resolves when nothing is being read or written any more. */
  async settled(): Promise<void> {
    await this.#files
  }

  #stepped(isNew: boolean | undefined): void {
    if (isNew && this.document) this.#options.supervisor.revise(this.document.text)
    if (this.document) this.#options.changed()
  }

  #usualRig(): Rig {
    return this.#options.settings.areCautionsRead ? this.#wish : 'virtual'
  }

  #documentOf(show: Show, file: string | null, isSaved: boolean): ShowDocument {
    const revision = this.document?.revision ?? 0
    return new ShowDocument(show, { revision, file, isSaved })
  }

  #play(open: OpenShow): void {
    this.#open = open
    this.#load(open, undefined)
    this.#options.changed()
  }

  #load(
    { document, rig, take }: OpenShow,
    from: { readonly song: string; readonly position: number | null } | undefined,
  ): void {
    this.#options.supervisor.load({
      text: document.text,
      rig,
      ...(from === undefined ? {} : { song: from.song }),
      ...(from === undefined || from.position === null ? {} : { position: from.position }),
      ...(take === undefined || rig === 'real' ? {} : { take }),
    })
  }

  #queued<T>(work: () => Promise<T>): Promise<T> {
    const done = this.#files.then(work)
    this.#files = done.catch(() => {})
    return done
  }
}
