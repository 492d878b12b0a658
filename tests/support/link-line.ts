import { VirtualBox, type VirtualBoxWiring } from '../../app/engine/virtual-box/virtual-box.ts'
import type { LampChange } from '../../src/domain/lamp-state.ts'
import { WAKE } from '../../src/domain/stage.ts'
import type { Hz, Micros } from '../../src/domain/units.ts'
import { decodeFrame } from '../../src/outputs/frame-wire.ts'
import type { SerialFrame } from '../../src/outputs/serial-frame.ts'
import type { SerialLinkEvent, SerialLinkOut } from '../../src/outputs/serial-link-event.ts'
import type { SerialLinkState } from '../../src/outputs/serial-link-state.ts'
import { serialLink } from '../../src/outputs/serial-link.ts'
import { deepFreeze } from './deep-freeze.ts'
import { change, dark, lampsInSlots, lit, WIRE } from './rig-outputs.ts'
import { VirtualTimers } from './virtual-timers.ts'

/** What a line does to a piece of bytes: what arrives, and after how long. Nothing arrives where `bytes` is undefined. */
export interface Passage {
  readonly bytes: Uint8Array | undefined
  readonly delay: Micros
}

export interface LinkLineOptions {
  readonly lamps: number
  readonly box?: Partial<VirtualBoxWiring>
  readonly toBox?: (bytes: Uint8Array) => Passage
  readonly toHost?: (bytes: Uint8Array) => Passage
  /** How long the port takes for a write. */
  readonly writeMicros?: () => Micros
}

export function litChange(index: number, hz: Hz, duty = 0.5): LampChange {
  return change(
    index,
    lit({ duty, drive: { kind: 'timer', rate: Math.round(hz * 65536), prescaler: 1, top: 9 } }),
  )
}

export { dark as darkChange }

/**
 * A link, a port and a virtual box on one line in virtual time. The link's state goes through JSON and is frozen at each step; a line keeps
 * its order, whatever it does to the bytes.
 */
export class LinkLine {
  readonly timers = new VirtualTimers()
  readonly box: VirtualBox
  readonly out: { readonly at: Micros; readonly one: SerialLinkOut }[] = []
  /** Frames that the link gave to the port, with when. */
  readonly written: { readonly at: Micros; readonly frame: SerialFrame }[] = []
  state: SerialLinkState
  /** Frames that wait in the port now, and the most there ever were. */
  waiting = 0
  mostWaiting = 0
  mostSetsInFlight = 0
  largestState = 0
  readonly #options: LinkLineOptions
  #cancelWake = (): void => {}
  #portFree: Micros = 0
  #boxFree: Micros = 0
  #hostFree: Micros = 0
  /** Of the open port; what an earlier one still carries is lost. */
  #turn = 0
  readonly #wanted: { rate: number; duty16: number }[]

  constructor(options: LinkLineOptions) {
    this.#options = options
    const lamps = lampsInSlots(options.lamps)
    this.state = serialLink.start({ output: WIRE, lamps })
    this.#wanted = lamps.map(() => ({ rate: 0, duty16: 0 }))
    this.box = new VirtualBox({
      lamps: options.lamps,
      ...options.box,
      timers: this.timers,
      send: (bytes) => this.#fromBox(bytes),
    })
  }

  get now(): Micros {
    return this.timers.now()
  }

  open(): void {
    this.#turn++
    this.waiting = 0
    this.#portFree = this.now
    this.tell({ kind: 'open' })
  }

  closed(): void {
    this.#turn++
    this.waiting = 0
    this.tell({ kind: 'closed' })
  }

  set(...changes: LampChange[]): void {
    for (const { index, state } of changes) {
      const rate = state.on && state.drive.kind === 'timer' ? state.drive.rate : 0
      this.#wanted[index] = { rate, duty16: state.on ? Math.round(state.duty * 65535) : 0 }
    }
    this.tell({ kind: 'changes', changes })
  }

  darkAll(): void {
    for (const slot of this.#wanted.keys()) this.#wanted[slot] = { rate: 0, duty16: 0 }
    this.tell({ kind: 'dark-all' })
  }

  tell(event: SerialLinkEvent): void {
    this.#cancelWake()
    const { state, out, wake } = serialLink.step(deepFreeze(this.state), event, this.now)
    const saved = JSON.stringify(state)
    this.largestState = Math.max(this.largestState, saved.length)
    this.state = JSON.parse(saved)
    if (wake !== undefined) {
      if (wake <= this.now) throw new Error(`The link asks to be woken at ${wake}, and it is ${this.now}`)
      this.#cancelWake = this.timers.at(wake, () => this.tell(WAKE))
    }
    for (const one of out) {
      this.out.push({ at: this.now, one })
      if (one.kind === 'write') this.#write(one.bytes)
    }
    const sets = this.state.flights.filter(({ type }) => type === 'set').length
    this.mostSetsInFlight = Math.max(this.mostSetsInFlight, sets)
  }

  /** Whether the box does what the host wants, lamp by lamp. */
  get agrees(): boolean {
    return this.box
      .lamps()
      .every(
        ({ rate, duty16 }, slot) =>
          rate === this.#wanted[slot]?.rate && duty16 === this.#wanted[slot]?.duty16,
      )
  }

  run(ms: number): void {
    this.timers.run(ms * 1000)
  }

  outOf<Kind extends SerialLinkOut['kind']>(kind: Kind): Extract<SerialLinkOut, { kind: Kind }>[] {
    return this.out.flatMap(({ one }) =>
      one.kind === kind ? [one as Extract<SerialLinkOut, { kind: Kind }>] : [],
    )
  }

  #write(bytes: Uint8Array): void {
    const turn = this.#turn
    const frame = decodeFrame(bytes.subarray(0, -1))
    if (typeof frame === 'string') throw new Error(`The link wrote a damaged frame: ${frame}`)
    this.written.push({ at: this.now, frame })
    this.waiting++
    this.mostWaiting = Math.max(this.mostWaiting, this.waiting)
    this.#portFree = Math.max(this.#portFree, this.now) + (this.#options.writeMicros?.() ?? 0)
    this.timers.at(this.#portFree, () => {
      if (turn !== this.#turn) return
      this.waiting--
      const passage = this.#options.toBox?.(bytes) ?? { bytes, delay: 0 }
      this.#boxFree = Math.max(this.#boxFree, this.now + passage.delay)
      const arrived = passage.bytes
      if (arrived) this.timers.at(this.#boxFree, () => this.box.receive(arrived))
      this.tell({ kind: 'wrote', frames: 1 })
    })
  }

  #fromBox(bytes: Uint8Array): void {
    const turn = this.#turn
    const passage = this.#options.toHost?.(bytes) ?? { bytes, delay: 0 }
    this.#hostFree = Math.max(this.#hostFree, this.now + passage.delay)
    const arrived = passage.bytes
    if (!arrived) return
    this.timers.at(this.#hostFree, () => {
      if (turn === this.#turn) this.tell({ kind: 'bytes', bytes: arrived })
    })
  }
}
