import type { Browser, Page } from 'playwright-core'
import { ShowDocument } from '../../app/engine/host/show-document.ts'
import { strategyForms } from '../../app/engine/host/strategy-forms.ts'
import type { StrategyForm } from '../../src/contract/from-host.ts'
import type { ToHost } from '../../src/contract/to-host.ts'
import type { Show } from '../../src/domain/show.ts'
import { strategies } from '../../src/strategies/registry.ts'
import { demoShow } from './demo.ts'
import type { HostWord } from './house-words.ts'
import { houseWords } from './house-words.ts'
import type { ScreenPage, ScreenPageOptions } from './screen-page.ts'
import { openScreenPage } from './screen-page.ts'

export type EditAsk = Extract<ToHost, { type: 'edit' }>

/** The built screens, with the host's own document behind them: every edit is done to it and answered as the host would, when the test says so. */
export class EditedHouse {
  readonly screen: ScreenPage
  readonly page: Page
  #document: ShowDocument
  #answered = 0
  #isLocked = false

  static async open(
    browser: Browser,
    options: Omit<ScreenPageOptions, 'first'> & {
      readonly show?: Show
      /** Said after all else. */
      readonly more?: readonly HostWord[]
      /** The host has not said what the show is. */
      readonly noShow?: boolean
      /** In place of those there are. */
      readonly strategies?: readonly StrategyForm[]
    },
  ): Promise<EditedHouse> {
    const {
      show = demoShow(),
      more = [],
      noShow = false,
      strategies: forms = strategyForms(strategies),
      ...rest
    } = options
    const words = houseWords(show).filter(({ type }) => !noShow || type === 'welcome')
    const first = words.map((word): HostWord =>
      word.type === 'welcome' ? { ...word, strategies: [...forms] } : word,
    )
    return new EditedHouse(await openScreenPage(browser, { ...rest, first: [...first, ...more] }), show)
  }

  private constructor(screen: ScreenPage, show: Show) {
    this.screen = screen
    this.page = screen.page
    this.#document = new ShowDocument(show, { revision: 0, file: null, isSaved: true })
  }

  get show(): Show {
    return this.#document.show
  }

  /** Edits asked for that were not answered yet. */
  async waiting(): Promise<EditAsk[]> {
    const asked = await this.screen.asked()
    return asked.filter((one): one is EditAsk => one.type === 'edit').slice(this.#answered)
  }

  /** The next edit, not answered. Throws where none comes within ten seconds. */
  async asked(): Promise<EditAsk> {
    const [edit] = await this.countAsked(1)
    if (!edit) throw new Error('the screen asked for no edit')
    return edit
  }

  /** Waits until so many edits are not answered. */
  async countAsked(count: number): Promise<EditAsk[]> {
    const end = performance.now() + 10_000
    for (;;) {
      const waiting = await this.waiting()
      if (waiting.length >= count) return waiting
      if (performance.now() > end)
        throw new Error(`the screen asked for ${waiting.length} edits, not ${count}`)
      await new Promise((resolve) => setTimeout(resolve, 5))
    }
  }

  /** The next edit, done to the document and answered, by the new show or by what is wrong. */
  async next(): Promise<EditAsk> {
    const edit = await this.asked()
    this.#answered++
    const done = this.#document.edit(edit, performance.now())
    if (done.ok) await this.tellShow()
    else await this.screen.say({ type: 'edit-refused', label: edit.label, faults: [...done.faults] })
    return edit
  }

  /** The show changes by another screen's doing. */
  async changeElsewhere(changes: EditAsk['changes']): Promise<void> {
    const { revision } = this.#document
    const done = this.#document.edit({ base: revision, label: 'Elsewhere', changes }, performance.now())
    if (!done.ok) throw new Error(JSON.stringify(done.faults))
    await this.tellShow()
  }

  /** The gig lock goes on or off. */
  async lock(isLocked: boolean): Promise<void> {
    this.#isLocked = isLocked
    await this.tellShow()
  }

  async tellShow(): Promise<void> {
    const { show, revision, file, isSaved, undoLabel, redoLabel } = this.#document
    await this.screen.say({
      type: 'show',
      revision,
      show,
      file,
      isSaved,
      undo: undoLabel,
      redo: redoLabel,
      rig: 'virtual',
      isDemo: false,
      isLocked: this.#isLocked,
    })
  }

  close(): Promise<void> {
    return this.screen.close()
  }
}
