import type { LampId, LampIndex } from '../domain/ids.ts'
import type { Lit } from '../domain/lamp-state.ts'
import { DARK } from '../domain/lamp-state.ts'
import type { Rig } from '../domain/rig.ts'
import type { Micros } from '../domain/units.ts'
import type { Wish } from '../domain/wish.ts'
import { findLight } from '../tuning/find-light.ts'
import type { Agenda, Cell, SavedCell } from './agenda.ts'
import type { House } from './house.ts'

/** How long a lamp is lit to be found. */
const FIND_TIME: Micros = 2_000_000

/** What a search goes by, and where its light goes. */
export interface FinderOptions {
  readonly agenda: Agenda
  readonly house: House
  /** The part that has the lamp. */
  readonly ownerOf: (lamp: LampIndex) => string | undefined
  readonly hasRoom: (lamp: LampIndex) => boolean
  /** The lamp shall do this, unless this moment has said something of it before: then that counts, where `isSoft`. */
  readonly wish: (wish: Wish, isSoft: boolean) => void
}

/**
 * A lamp that is lit so that a person can find it, which belongs to no part: one at a time, for two seconds, until a note wants it or its power. It stands in the
 * agenda only while there is one, so that it is nothing to anybody otherwise.
 */
export class Finder implements Cell {
  readonly name = 'find'
  wakeAt: Micros = Infinity
  readonly #options: FinderOptions
  #lamp: LampIndex | undefined

  constructor(options: FinderOptions) {
    this.#options = options
    const { agenda } = options
    const saved = agenda.saved(this.name)
    if (saved) this.#begin(saved.state as LampIndex, saved.wakeAt ?? agenda.now)
  }

  get lamp(): LampIndex | undefined {
    return this.#lamp
  }

  /** What becomes of it is on the tap. */
  start(id: LampId, rig: Rig): void {
    const { agenda, house, wish } = this.#options
    const index = rig.lamps.findIndex((lamp) => lamp.id === id)
    const light = this.#light(id, index, rig)
    if (typeof light === 'string') {
      house.tap({ kind: 'finding', at: agenda.now, lamp: null, why: light })
      return
    }
    wish({ lamp: index, state: light, gap: 0 }, false)
    this.#begin(index, agenda.now + FIND_TIME)
    house.tap({ kind: 'finding', at: agenda.now, lamp: id })
  }

  /** `why`: where it is not its time that is over. */
  stop(why?: string): void {
    const lamp = this.#lamp
    if (lamp === undefined) return
    const { agenda, house, wish } = this.#options
    this.#lamp = undefined
    this.wakeAt = Infinity
    agenda.remove(this)
    wish({ lamp, state: DARK, gap: 0 }, true)
    const words = why === undefined ? {} : { why }
    house.tap({ kind: 'finding', at: agenda.now, lamp: null, ...words })
  }

  wake(): void {
    this.stop()
  }

  save(): SavedCell {
    return { state: this.#lamp, wakeAt: this.wakeAt }
  }

  #begin(lamp: LampIndex, until: Micros): void {
    const { agenda } = this.#options
    this.#lamp = lamp
    this.wakeAt = until
    agenda.remove(this)
    agenda.add(this)
  }

  /** What the lamp would do, or why it is not to be lit now. */
  #light(id: LampId, index: LampIndex, rig: Rig): Lit | string {
    const lamp = rig.lamps[index]
    const output = rig.outputs.find((one) => one.id === lamp?.output)
    if (!lamp || !output) return `the rig has no lamp "${id}"`
    const owner = this.#options.ownerOf(index)
    if (owner !== undefined) return `lit by part ${owner}`
    const light = findLight(lamp, output)
    if (!light) return 'it only flashes so slowly that it would flicker'
    return this.#options.hasRoom(index) ? light : `the supply ${lamp.supply} has no room`
  }
}
