import type { PropertyValues, TemplateResult } from 'lit'
import { html, LitElement, nothing } from 'lit'
import type { MenuCommand } from '../../../src/contract/desktop-bridge.ts'
import type { Ask, AskEvent } from '../controllers/ask-event.ts'
import { LockKeeper } from '../controllers/gig-lock.ts'
import { FileDropController } from '../controllers/file-drop.ts'
import { HouseController } from '../controllers/house-controller.ts'
import { KeyCommandsController } from '../controllers/key-commands.ts'
import type { Pane } from '../controllers/pane-event.ts'
import { RoomController, roomHref, ROOMS } from '../controllers/room-controller.ts'
import { isScaleFile } from '../controllers/scale-files.ts'
import { readShowFile } from '../controllers/show-file.ts'
import { controls } from '../style/controls.ts'
import { frame } from '../style/frame.ts'
import './cautions-pane.ts'
import './checks-room.ts'
import type { LanDarkKey } from './dark-key.ts'
import './dark-key.ts'
import './entry-door.ts'
import './failure-notice.ts'
import './file-pane.ts'
import './first-start.ts'
import './house-notice.ts'
import './monitor-room.ts'
import './recoveries-pane.ts'
import './rig-room.ts'
import './room-rail.ts'
import './screens-pane.ts'
import './sheet-room.ts'
import './songs-room.ts'
import './stage-room.ts'
import './steps-room.ts'
import type { LanTuningRoom } from './tuning-room.ts'
import './tuning-room.ts'
import './unsaved-pane.ts'
import './word-strip.ts'
import './words-pane.ts'

/** These put another show in the place of this one. */
const REPLACING: ReadonlySet<Ask['type']> = new Set(['new-show', 'open-demo', 'open-file', 'open-text'])
const SHUT = 'The gig lock is on: only playing, changing songs and Dark. Unlock first.'

/** The whole page: rooms, the way between them, what bears on the whole show, and the Dark key. */
export class LanApp extends LitElement {
  static override properties = { pane: { state: true }, read: { state: true } }
  static override styles = [controls, frame]
  declare pane: Pane | undefined
  /** Count of the last word that was read. */
  declare read: number
  readonly #house = new HouseController(this)
  readonly #room = new RoomController(this)
  readonly #lock = new LockKeeper(this)
  readonly #drop = new FileDropController(this, (files) => this.#dropped(files))
  /** What waits until the show is saved, or is given up. */
  #held: (() => void) | undefined
  /** Work that was not saved has been shown, or was there while nothing could be done about it. */
  #hasShownRecoveries = false

  constructor() {
    super()
    this.pane = undefined
    this.read = 0
    const keys = new KeyCommandsController({
      dark: () => this.renderRoot.querySelector<LanDarkKey>('lan-dark-key')?.press(),
      undo: () => this.#step('undo'),
      redo: () => this.#step('redo'),
      room: (place) => this.#go(ROOMS[place]),
      turn: (to) => this.#turn(to),
    })
    this.addController(keys)
    window.lanthorn?.onMenu((command) => this.#menu(command))
  }

  override willUpdate(): void {
    const { show, recoveries } = this.#house.view
    this.#lock.set(show?.isLocked === true)
    if (this.#hasShownRecoveries || !show || recoveries.length === 0) return
    // Once, at the start; not between a player and the Stage.
    this.#hasShownRecoveries = true
    if (!show.isLocked) this.pane ??= 'recoveries'
  }

  override render(): TemplateResult {
    const { view } = this.#house
    const isOutside = view.noEntry !== undefined && (view.link === 'asking' || view.link === 'connecting')
    return html`<div
      class="frame"
      @lan-ask=${(event: AskEvent) => this.#ask(event.ask)}
      @lan-pane=${({ pane }: HTMLElementEventMap['lan-pane']) => this.#show(pane)}
      @lan-open-show=${({ file }: HTMLElementEventMap['lan-open-show']) => this.#open(file)}
      @lan-go-on=${() => this.#goOn()}
      @lan-code=${({ code }: HTMLElementEventMap['lan-code']) => this.#house.enter(code)}
    >
      ${
        isOutside
          ? nothing
          : html`<header>
              <lan-room-rail .view=${view} .room=${this.#room.room} .pane=${this.pane}></lan-room-rail>
            </header>`
      }
      <div class="floor">
        <aside aria-label="Notices">
          <lan-failure-notice .failures=${view.failures}></lan-failure-notice>
          <lan-house-notice .view=${view} .room=${this.#room.room}></lan-house-notice>
        </aside>
        <div class="space">
          <main tabindex="-1">
            ${
              isOutside
                ? html`<lan-entry-door
                    .refusal=${view.noEntry}
                    .isChecking=${view.link === 'connecting'}
                  ></lan-entry-door>`
                : this.#content()
            }
          </main>
          ${this.#pane()}
        </div>
        <footer>
          <lan-word-strip .view=${view} .read=${this.read}></lan-word-strip>
          <lan-dark-key .darks=${view.darks} .isReached=${view.link === 'open'}></lan-dark-key>
        </footer>
      </div>
      ${this.#drop.isOver ? html`<p class="drop">${this.#room.room === 'tuning' ? 'Let go to open this show, or to read this scale' : 'Let go to open this show'}</p>` : nothing}
    </div>`
  }

  override updated(_changed: PropertyValues<this>): void {
    // What was held goes on once the show is saved.
    if (this.#held && this.#house.view.show?.isSaved === true) this.#goOn()
    const { show } = this.#house.view
    document.title = show ? `${show.isSaved ? '' : '* '}${show.show.title} - Lanthorn` : 'Lanthorn'
  }

  #content(): TemplateResult {
    const { view } = this.#house
    switch (this.#room.room) {
      case 'stage':
        return html`<lan-stage-room .view=${view}></lan-stage-room>`
      case 'songs':
        return html`<lan-songs-room .view=${view}></lan-songs-room>`
      case 'sheet':
        return html`<lan-sheet-room .view=${view}></lan-sheet-room>`
      case 'steps':
        return html`<lan-steps-room .view=${view}></lan-steps-room>`
      case 'tuning':
        return html`<lan-tuning-room .view=${view}></lan-tuning-room>`
      case 'rig':
        return html`<lan-rig-room .view=${view}></lan-rig-room>`
      case 'checks':
        return html`<lan-checks-room .view=${view}></lan-checks-room>`
      case 'monitor':
        return html`<lan-monitor-room .view=${view}></lan-monitor-room>`
      case 'start':
        return view.show?.isLocked === true
          ? this.#startShut()
          : html`<lan-first-start .view=${view}></lan-first-start>`
    }
  }

  #pane(): TemplateResult | typeof nothing {
    const { view } = this.#house
    switch (this.pane) {
      case 'file':
        return html`<lan-file-pane class="pane" .view=${view}></lan-file-pane>`
      case 'screens':
        return html`<lan-screens-pane class="pane" .view=${view}></lan-screens-pane>`
      case 'words':
        return html`<lan-words-pane class="pane" .view=${view}></lan-words-pane>`
      case 'cautions':
        return html`<lan-cautions-pane
          class="pane"
          .cautions=${view.welcome?.cautions ?? []}
          .areRead=${view.welcome?.areCautionsRead === true}
        ></lan-cautions-pane>`
      case 'unsaved':
        return html`<lan-unsaved-pane class="pane" .view=${view}></lan-unsaved-pane>`
      case 'recoveries':
        return html`<lan-recoveries-pane class="pane" .view=${view}></lan-recoveries-pane>`
      case undefined:
        return nothing
    }
  }

  #startShut(): TemplateResult {
    return html`<div class="shut">
      <h1 class="label">First start</h1>
      <p>While the gig lock is on, no new show is made. <a href=${roomHref('stage')}>To the Stage</a></p>
    </div>`
  }

  /** The pane that is open already closes when it is asked for again. */
  #show(pane: Pane | undefined): void {
    this.#held = undefined
    this.pane = pane === this.pane ? undefined : pane
    if (this.pane === 'words') this.read = this.#house.view.wordsSaid
  }

  #ask(what: Ask): void {
    const isOther = REPLACING.has(what.type) || (what.type === 'recovery' && what.do === 'open')
    if (isOther) this.#replace(() => this.#send(what))
    else this.#send(what)
  }

  #send(what: Ask): void {
    if (this.#house.ask(what) || what.type === 'dark-all') return
    this.#house.say(
      'warning',
      'this screen',
      'The host is not reached now, so nothing was done. Try again when it is back.',
    )
  }

  /** Does what puts another show here, now or once this one is saved or given up. */
  #replace(how: () => void): void {
    if (this.#house.view.show?.isLocked === true) return this.#house.say('warning', 'this screen', SHUT)
    if (this.#house.view.show?.isSaved === false) {
      this.pane = 'unsaved'
      this.#held = how
    } else {
      if (this.pane === 'file' || this.pane === 'recoveries') this.pane = undefined
      how()
    }
  }

  #goOn(): void {
    const held = this.#held
    this.#show(undefined)
    held?.()
  }

  /** A file that was chosen or dropped; without one the desktop's dialog asks. */
  #open(file?: File): void {
    const { mayFiles } = this.#house.view.welcome ?? {}
    if (mayFiles !== true) {
      this.#house.say('warning', 'this screen', 'Shows are opened on the machine that plays, not from here.')
      return
    }
    const bridge = window.lanthorn
    if (!file) return this.#replace(() => bridge?.openDialog())
    if (bridge) return this.#replace(() => bridge.openDropped(file))
    void readShowFile(file).then((read) => {
      if ('fault' in read) this.#house.say('fault', file.name, read.fault)
      else this.#ask({ type: 'open-text', name: file.name, text: read.text })
    })
  }

  /** In the Tuning room a scale is read; anything else is opened as a show. */
  #dropped(files: readonly File[]): void {
    const room = this.renderRoot.querySelector<LanTuningRoom>('lan-tuning-room')
    if (!room || !files.some(isScaleFile)) return this.#open(files[0])
    if (this.#house.view.show?.isLocked === true) return this.#house.say('warning', 'this screen', SHUT)
    room.takeFiles(files)
  }

  #save(): void {
    const { show } = this.#house.view
    if (show?.file !== null && show?.file !== undefined) this.#ask({ type: 'save' })
    else if (window.lanthorn) window.lanthorn.saveDialog()
    else this.pane = 'file'
  }

  #step(way: 'undo' | 'redo'): void {
    if (this.#house.view.show?.isLocked === true) this.#house.say('warning', 'this screen', SHUT)
    else this.#ask({ type: way })
  }

  #turn(to: 'next' | 'previous'): boolean {
    if (this.#room.room !== 'stage') return false
    this.#ask({ type: 'go', to })
    return true
  }

  #go(room: Parameters<typeof roomHref>[0] | undefined): void {
    if (room) location.hash = roomHref(room)
  }

  #menu(command: MenuCommand): void {
    switch (command) {
      case 'open':
        return this.#open()
      case 'save':
        return this.#save()
      case 'save-as':
        return window.lanthorn?.saveDialog()
      case 'new-show':
        return this.#go('start')
      case 'undo':
      case 'redo':
        return this.#step(command)
      case 'next-song':
        return this.#ask({ type: 'go', to: 'next' })
      case 'previous-song':
        return this.#ask({ type: 'go', to: 'previous' })
      default:
        return this.#go(command)
    }
  }
}

customElements.define('lan-app', LanApp)
