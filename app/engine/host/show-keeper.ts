import { readFile } from 'node:fs/promises'
import { basename, dirname, resolve } from 'node:path'
import type { Show } from '../../../src/domain/show.ts'
import type { NewShowAnswers } from '../../../src/show/new-show-answers.ts'
import { newShow } from '../../../src/show/new-show.ts'
import { formatShow } from '../../../src/show/write-show.ts'
import type { Supervisor, SupervisorTimers } from '../supervisor.ts'
import type { EditFault } from './apply-change.ts'
import { DiskLook } from './disk-look.ts'
import { fileTrouble } from './file-trouble.ts'
import type { Settings, Standing } from './settings.ts'
import type { Edit } from './show-document.ts'
import { ShowDocument } from './show-document.ts'
import {
  openShowFile,
  readShowBytes,
  readShowText,
  seeShowFile,
  stampOf,
  writeShowFile,
} from './show-file.ts'
import type { CountedShow } from './take-checks.ts'
import type { JournalBase } from './unsaved/journal-file.ts'
import type { Journal } from './unsaved/journal.ts'
import type { UnsavedWork } from './unsaved/unsaved-work.ts'

export interface ShowKeeperOptions {
  readonly supervisor: Pick<Supervisor, 'load' | 'revise'>
  readonly settings: Settings
  readonly work: UnsavedWork
  /** What the person wants for shows that are opened; left out: the rig's own lamps, once the cautions are read. */
  readonly rig?: Rig
  /** Files of the demo. */
  readonly demo: { readonly show: string; readonly take: string }
  /** `now` never goes back. */
  readonly timers: SupervisorTimers
  /** What plays now. */
  readonly playing: () => SongPlace | undefined
  /** The show, or something about it, is another. */
  readonly changed: () => void
  /** Its file is not what was opened or saved here; null: it is again. */
  readonly fileChanged: (message: string | null) => void
  /** Something that a person should know of. */
  readonly note: (message: string) => void
}

export type Rig = 'real' | 'virtual'

export interface SongPlace {
  readonly song: string
  readonly position: number | null
}

interface OpenShow {
  readonly document: ShowDocument
  rig: Rig
  /** Of its file as it was last read or written. */
  stamp?: string | undefined
  /** What players in memory play, where it is the demo; a Standard MIDI File in base64. */
  readonly take?: string | undefined
  /** Where what is not saved is kept. */
  readonly journal: Journal
  /** What the unsaved work is made from. */
  base: JournalBase
}

interface FoundShow {
  readonly show: Show
  readonly stamp: string
  readonly isSaved: boolean
}

/** Why something was not done, in words; undefined: it was. */
export type Trouble = string | undefined

type Saved = { readonly file: string } | { readonly why: string }

const NO_SHOW = 'no show is open'
/** A stamp that no file has: whatever is there is somebody else's. */
const NOT_OURS = 'not ours'
const NO_FILE = 'this show has no file yet; choose where to save it'

/** Keeps the show that is open: edits it, opens others in its place, saves it, and has the engine play it. */
export class ShowKeeper {
  readonly #options: ShowKeeperOptions
  readonly #disk: DiskLook
  #open: OpenShow | undefined
  /** What the person wants for shows that are opened. */
  #wish: Rig
  /** Whether the show is to be there after a restart even where nothing of it is unsaved. */
  #isHeld = false
  /** One file after the other, in the order they were asked for. */
  #files: Promise<unknown> = Promise.resolve()

  constructor(options: ShowKeeperOptions) {
    this.#options = options
    this.#wish = options.rig ?? 'real'
    this.#disk = new DiskLook({
      timers: options.timers,
      queued: (look) => void this.#queued(look),
      open: () => this.#open,
      told: options.fileChanged,
    })
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
  /** What takes are counted of: the show as it stands, and the folder that its takes are looked for in. */
  get counted(): CountedShow | undefined {
    if (!this.#open) return undefined
    const { revision, show, file } = this.#open.document
    const home = file ?? (this.#open.take === undefined ? undefined : this.#options.demo.show)
    return { revision, show, folder: home === undefined ? undefined : dirname(home) }
  }
  /** What somebody else did to the show's file; null: nothing. */
  get fileChange(): string | null {
    return this.#disk.message
  }
  /** The show that is open and where in it the band is; null: none. */
  get standing(): Standing | null {
    const { work, playing } = this.#options
    const open = this.#open
    if (!open) return null
    const { song = null, position = null } = playing() ?? {}
    const { file } = open.document
    return {
      file,
      isDemo: open.take !== undefined,
      journal: basename(open.journal.path),
      owner: work.owner,
      rig: open.rig,
      song,
      position,
    }
  }

  // The show as it stands.

  edit(edit: Edit): readonly EditFault[] {
    const open = this.#open
    if (!open) return [{ path: '$', message: NO_SHOW }]
    const edited = open.document.edit(edit, this.#options.timers.now())
    if (!edited.ok) return edited.faults
    this.#stepped(open, edited.isNew)
    return []
  }

  undo(): void {
    if (this.#open) this.#stepped(this.#open, this.#open.document.undo())
  }

  redo(): void {
    if (this.#open) this.#stepped(this.#open, this.#open.document.redo())
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

  /** While it is held the show is there again after a restart, whether it has a file or not. */
  hold(isHeld: boolean): void {
    this.#isHeld = isHeld
    if (this.#open) this.#keep(this.#open)
  }

  // Other shows.

  openFile(path: string, from?: SongPlace): Promise<Trouble> {
    return this.#queued(async () => {
      const opened = await openShowFile(path)
      if (!opened.ok) {
        this.#options.work.brokeOff(resolve(path))
        void this.#look()
        return opened.message
      }
      this.#noteAll(opened.path, opened.notes)
      const { show, stamp, bytes } = opened
      this.#options.settings.opened(opened.path)
      this.#play(
        {
          ...this.#fresh(show, { file: opened.path, isSaved: opened.notes.length === 0, stamp }),
          rig: this.#usualRig(),
        },
        from,
      )
      this.#keepCopy(opened.path, bytes)
      return undefined
    })
  }

  openText(name: string, text: string): Promise<Trouble> {
    // In turn with files, so that what was asked for last is what is open in the end.
    return this.#queued(async () => {
      const read = readShowText(text)
      if (!read.ok) return `${name}: ${read.message}`
      this.#noteAll(name, read.notes)
      const isSaved = read.notes.length === 0
      this.#play({ ...this.#fresh(read.show, { file: null, isSaved }), rig: this.#usualRig() })
      return undefined
    })
  }

  openDemo(from?: SongPlace): Promise<Trouble> {
    return this.#queued(async () => {
      const opened = await openShowFile(this.#options.demo.show)
      if (!opened.ok) return opened.message
      const take = await this.#take()
      if ('why' in take) return take.why
      this.#play(
        { ...this.#fresh(opened.show, { file: null, isSaved: true }), rig: 'virtual', take: take.base64 },
        from,
      )
      return undefined
    })
  }

  newShow(answers: NewShowAnswers): Promise<Trouble> {
    return this.#queued(async () => {
      // Read as from a file, so that nothing is played that could not be opened again.
      const read = readShowText(formatShow(newShow(answers)))
      if (!read.ok) return read.message
      const rig = answers.wiring.kind === 'virtual' ? 'virtual' : this.#usualRig()
      this.#play({ ...this.#fresh(read.show, { file: null, isSaved: false }), rig })
      return undefined
    })
  }

  // Files.

  /** `mayReplace`: whether the person was asked before another file of that name is replaced. The path it is saved at, or why not. */
  save(path: string | undefined, mayReplace: boolean): Promise<Saved> {
    const open = this.#open
    if (!open) return Promise.resolve({ why: NO_SHOW })
    // As it is now, whatever is done to it until the disk has it.
    const { text } = open.document
    return this.#queued(async () => {
      const given = path ?? open.document.file
      if (given === null) return { why: NO_FILE }
      const isOwn = resolve(given) === open.document.file
      return this.#write(open, given, text, isOwn ? (open.stamp ?? NOT_OURS) : undefined, mayReplace)
    })
  }

  /** Saves over what somebody else put into the show's file; that is kept as a recovery. */
  writeOver(): Promise<Saved> {
    const open = this.#open
    if (!open) return Promise.resolve({ why: NO_SHOW })
    const { text } = open.document
    return this.#queued(async () => {
      const { file } = open.document
      if (file === null) return { why: NO_FILE }
      const seen = await seeShowFile(file)
      if (seen.state === 'unknown') return { why: `${file}: ${seen.message}` }
      if (seen.state === 'there' && seen.stamp !== open.stamp) {
        try {
          await this.#options.work.setAside(file, seen.bytes)
        } catch (error) {
          return {
            why: `${file} was left alone: what is in it could not be kept (${fileTrouble(error)}); save under another name`,
          }
        }
      }
      const known = seen.state === 'there' ? seen.stamp : undefined
      const saved = await this.#write(open, file, text, known, false)
      void this.#look()
      return saved
    })
  }

  /** The show's file as it is on the disk now; what was not saved here becomes a recovery. The music goes on. */
  readAgain(): Promise<Trouble> {
    return this.#queued(async () => {
      const open = this.#open
      if (!open) return NO_SHOW
      const { file } = open.document
      if (file === null) return NO_FILE
      const opened = await openShowFile(file)
      if (!opened.ok) return opened.message
      this.#noteAll(file, opened.notes)
      const { show, stamp, bytes } = opened
      const next = this.#fresh(show, { file, isSaved: opened.notes.length === 0, stamp })
      this.#goOn({ ...next, rig: open.rig, take: open.take })
      this.#keepCopy(file, bytes)
      return undefined
    })
  }

  /** Opens work that was not saved, as such. */
  recover(id: string): Promise<Trouble> {
    return this.#queued(async () => {
      const { work } = this.#options
      const found = await work.open(id)
      if (!found) return 'that is not there any more'
      const read = readShowBytes(found.bytes)
      if (!read.ok) return `that cannot be opened: ${read.message}`
      this.#noteAll('recovered', read.notes)
      const { file, stamp } = found
      const next = this.#fresh(read.show, { file, isSaved: false, stamp: stamp ?? NOT_OURS })
      const open = { ...next, rig: this.#usualRig() }
      // Work of the file that is open: the band stays where it is.
      if (file !== null && file === this.document?.file) this.#goOn({ ...open, rig: this.rig })
      else this.#play(open)
      // It is in a journal of our own by then.
      await open.journal.flush()
      if (id.endsWith('.journal')) await work.drop(id)
      void this.#look()
      return undefined
    })
  }

  drop(id: string): Promise<Trouble> {
    return this.#queued(async () => {
      const trouble = await this.#options.work.drop(id)
      void this.#look()
      return trouble
    })
  }

  /**
   * Where the band was when the process before this one ended: with what was not saved, else as in the file, else as it was last good there. False: that show
   * cannot be had any more.
   */
  goBack(standing: Standing): Promise<boolean> {
    return this.#queued(async () => {
      const { journal, file, isDemo, rig, song, position } = standing
      const { work } = this.#options
      const found = (await this.#unsaved(standing)) ?? (await this.#readable(standing))
      if (!found) return false
      const take = isDemo ? await this.#take() : undefined
      const base64 = take && 'base64' in take ? take.base64 : undefined
      const { show, stamp, isSaved } = found
      const next = this.#fresh(show, { file, isSaved, stamp: file === null ? undefined : stamp })
      const isVirtual = rig === 'virtual' || base64 !== undefined || this.#usualRig() === 'virtual'
      const place = song === null ? undefined : { song, position }
      this.#play({ ...next, rig: isVirtual ? 'virtual' : 'real', take: base64 }, place)
      await next.journal.flush()
      if (!isSaved) await work.drop(journal)
      void this.#look()
      return true
    })
  }

  async #unsaved({ journal }: Standing): Promise<FoundShow | undefined> {
    const unsaved = await this.#options.work.ofJournal(journal)
    const read = unsaved && readShowBytes(unsaved.bytes)
    return read?.ok ? { show: read.show, stamp: unsaved?.stamp ?? NOT_OURS, isSaved: false } : undefined
  }

  async #readable({ file, isDemo }: Standing): Promise<FoundShow | undefined> {
    const { work, demo } = this.#options
    if (file === null && !isDemo) return undefined
    const opened = await openShowFile(file ?? demo.show)
    if (opened.ok) return { show: opened.show, stamp: opened.stamp, isSaved: true }
    const copy = file === null ? undefined : await work.lastGood(file)
    if (file === null || copy === undefined) return undefined
    work.brokeOff(file)
    const kept = await openShowFile(copy)
    this.#options.note(`${opened.message}\nIt is open as it was when it was last good.`)
    return kept.ok ? { show: kept.show, stamp: NOT_OURS, isSaved: false } : undefined
  }

  /** Resolves when nothing is being read or written any more and unsaved work is on the disk. */
  async settled(): Promise<void> {
    await this.#files
    await this.#open?.journal.flush()
  }

  /** The same, and no file is looked at any more. */
  async close(): Promise<void> {
    await this.settled()
    this.#disk.close()
    await this.#open?.journal.close()
  }

  #stepped(open: OpenShow, isNew: boolean): void {
    if (isNew) {
      this.#options.supervisor.revise(open.document.text)
      this.#keep(open)
    }
    this.#options.changed()
  }

  /** What is not saved is on the disk as soon as may be. */
  #keep({ document, journal, base }: OpenShow): void {
    const { isSaved, file, text, revision } = document
    if (!isSaved || (this.#isHeld && file === null)) journal.note({ base, text, revision })
    else journal.clear()
  }

  #fresh(
    show: Show,
    { file, isSaved, stamp }: { file: string | null; isSaved: boolean; stamp?: string | undefined },
  ): Omit<OpenShow, 'rig' | 'take'> {
    const revision = this.document?.revision ?? 0
    return {
      document: new ShowDocument(show, { revision, file, isSaved }),
      stamp,
      journal: this.#options.work.journal(),
      base: { file, stamps: stamp === undefined ? [] : [stamp] },
    }
  }

  /** In the place of the show that was open. */
  #play(open: OpenShow, from?: SongPlace): void {
    this.#become(open)
    this.#load(open, from)
    this.#options.changed()
  }

  /** The same show in another state: what plays goes on as it does after an edit. */
  #goOn(open: OpenShow): void {
    this.#become(open)
    this.#options.supervisor.revise(open.document.text)
    this.#options.changed()
  }

  #become(open: OpenShow): void {
    const before = this.#open
    this.#open = open
    this.#keep(open)
    this.#disk.follow()
    if (!before) return
    void this.#queued(async () => {
      await before.journal.close()
      if (!before.document.isSaved) await this.#options.work.look(this.#open?.journal.path)
    })
  }

  async #write(
    open: OpenShow,
    path: string,
    text: string,
    known: string | undefined,
    mayReplace: boolean,
  ): Promise<Saved> {
    const { document, journal } = open
    const { work, settings } = this.#options
    await journal.put(stampOf(text))
    const replacing = (bytes: Uint8Array): Promise<void> => work.keepCopy(resolve(path), bytes)
    const written = await writeShowFile(path, text, { known, mayReplace, replacing })
    if (!written.ok) {
      this.#disk.look()
      return { why: written.message }
    }
    open.stamp = written.stamp
    open.base = { file: written.path, stamps: [written.stamp] }
    document.saved(written.path, text)
    this.#keep(open)
    this.#keepCopy(written.path, Buffer.from(text))
    settings.opened(written.path)
    if (open === this.#open) this.#disk.follow()
    this.#options.changed()
    return { file: written.path }
  }

  /** Nobody waits for it. */
  #keepCopy(file: string, bytes: Uint8Array): void {
    void this.#queued(() => this.#options.work.keepCopy(file, bytes))
  }

  async #take(): Promise<{ readonly base64: string } | { readonly why: string }> {
    const path = this.#options.demo.take
    try {
      return { base64: (await readFile(path)).toString('base64') }
    } catch (error) {
      return { why: `${path}: ${fileTrouble(error)}` }
    }
  }

  #load({ document, rig, take }: OpenShow, from: SongPlace | undefined): void {
    // A song that is there no more is no place to begin.
    const isThere = from !== undefined && document.show.songs.some(({ id }) => id === from.song)
    this.#options.supervisor.load({
      text: document.text,
      rig,
      ...(isThere ? { song: from.song } : {}),
      ...(isThere && from.position !== null ? { position: from.position } : {}),
      ...(take === undefined || rig === 'real' ? {} : { take }),
    })
  }

  #usualRig(): Rig {
    if (this.#options.settings.areCautionsRead) return this.#wish
    if (this.#wish === 'real')
      this.#options.note(
        'lamps are in memory for now: the real ones are lit once the cautions have been read and they are asked for',
      )
    return 'virtual'
  }

  #noteAll(name: string, notes: readonly string[]): void {
    for (const note of notes) this.#options.note(`${name}: ${note}`)
  }

  #look(): Promise<void> {
    return this.#queued(() => this.#options.work.look(this.#open?.journal.path))
  }

  #queued<T>(work: () => Promise<T>): Promise<T> {
    const done = this.#files.then(work)
    this.#files = done.catch(() => {})
    return done
  }
}
