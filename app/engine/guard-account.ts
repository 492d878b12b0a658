import type { FromEngine } from '../../src/contract/from-engine.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import { flashGuardOf } from '../../src/domain/flash-guard.ts'
import type { Rig } from '../../src/domain/rig.ts'
import { rounded } from '../../src/domain/rounded.ts'
import type { Show } from '../../src/domain/show.ts'
import type { Song } from '../../src/domain/song.ts'
import type { Micros } from '../../src/domain/units.ts'
import type { TapEvent } from '../../src/graph/tap.ts'
import { createFlashFigures } from '../../src/guards/flash/flash-figures.ts'
import { createSupplyFigures } from '../../src/offline/supply-figures.ts'

export type GuardsWord = Extract<FromEngine, { type: 'guards' }>

/** What guards did; of refusals only those for a supply, since all else is no guard's. */
interface Acts {
  folded: number
  tied: number
  glowed: number
  refused: number
  stolen: number
  exceeded: number
  heldDown: number
}

const none = (): Acts => ({
  folded: 0,
  tied: 0,
  glowed: 0,
  refused: 0,
  stolen: 0,
  exceeded: 0,
  heldDown: 0,
})

/**
 * What lamps really do to the eye and draw from their supplies, and what guards did about it, since the song began: by the figures of a rendered take, fed with the
 * tap's frames. Never throws for times that run back, which are taken as the latest: it listens while lamps are told, and only counts.
 */
export class GuardAccount {
  readonly #flash
  readonly #supplies
  #acts = none()
  #now: Micros
  #told = ''

  /** For the lamps of one rig, all dark; `at`: when the first song begins. */
  constructor(rig: Rig, at: Micros) {
    this.#flash = createFlashFigures(rig.lamps.map(({ id }) => id))
    this.#supplies = createSupplyFigures(rig)
    this.#now = at
    this.#begin(at)
  }

  watch(event: TapEvent): void {
    switch (event.kind) {
      case 'song':
        return this.#begin(event.at)
      case 'frame': {
        const at = this.#time(event.at)
        this.#flash.frame(at, event.changes)
        this.#supplies.frame(at, event.changes)
        return
      }
      case 'refused':
        if (event.reason === 'supply') this.#acts.refused += 1
        return
      case 'shed':
        this.#acts.stolen += 1
        return
      case 'exceeded':
        this.#acts.exceeded += 1
        return
      case 'held-down':
        this.#acts.heldDown += 1
        return
      case 'folded':
      case 'tied':
      case 'glowed':
        this.#acts[event.kind] += 1
        return
      default:
        return
    }
  }

  /** How it stands at a time before which nothing more comes; undefined where nothing changed since it was last asked but means, which always move. */
  news(at: Micros, show: Show, song: Pick<Song, 'flash'>): GuardsWord | undefined {
    const word = this.#word(this.#time(at), show, song)
    const told = JSON.stringify(word, (key, value: unknown) =>
      key === 'at' || key === 'meanAmps' ? undefined : value,
    )
    if (told === this.#told) return undefined
    this.#told = told
    return word
  }

  /** Nothing has been counted, and lamps go on as they are. */
  #begin(at: Micros): void {
    const now = this.#time(at)
    this.#flash.renew(now)
    this.#supplies.renew(now)
    this.#acts = none()
    this.#told = ''
  }

  #word(at: Micros, { guards, rig }: Show, song: Pick<Song, 'flash'>): GuardsWord {
    const guard = flashGuardOf({ guards }, song)
    const { lamps, ...flash } = this.#flash.now(at)
    const { folded, tied, glowed, ...acts } = this.#acts
    const draws = this.#supplies.now(at)
    const supplies = rig.supplies.flatMap(({ id, maxAmps, usable }) => {
      const draw = draws[id]
      return draw ? [{ id, limitAmps: rounded(maxAmps * usable, 6, `${id}: limitAmps`), ...draw }] : []
    })
    return {
      v: CONTRACT_VERSION,
      type: 'guards',
      at,
      flash: {
        action: guard.action,
        ...(guard.action === 'off' ? { since: guard.since } : {}),
        ...(guard.action === 'limit' ? { changes: guard.changes } : {}),
        ...flash,
        lamps: [...lamps],
        folded,
        tied,
        glowed,
      },
      supply: { action: guards.supply.action, ...acts, supplies },
    }
  }

  #time(at: Micros): Micros {
    this.#now = Math.max(this.#now, at)
    return this.#now
  }
}
