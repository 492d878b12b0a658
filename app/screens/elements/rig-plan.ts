import type { PropertyDeclarations, PropertyValues, TemplateResult } from 'lit'
import { html, LitElement, nothing, svg } from 'lit'
import type { Lamp } from '../../../src/domain/rig.ts'
import { propose } from '../controllers/edit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import { setLamp } from '../rig/lamp-edits.ts'
import type { PlanScale } from '../rig/plan-scale.ts'
import { nudged, planPlace, planScale } from '../rig/plan-scale.ts'
import { controls } from '../style/controls.ts'
import { rigPlan } from '../style/rig-plan.ts'

const STEPS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
}

/** With more lamps, their names would lie over each other. */
const MOST_NAMED = 20

interface Moving {
  readonly id: string
  readonly x: number
  readonly y: number
}

/** Where the lamps hang, seen from the audience. A lamp is moved with the arrow keys or dragged; it is an edit when the keys or the pointer let go. */
export class LanRigPlan extends LitElement {
  static override properties: PropertyDeclarations = {
    lamps: { attribute: false },
    moving: { state: true },
  }
  static override styles = [controls, rigPlan]
  declare lamps: readonly Lamp[]
  declare private moving: Moving | undefined
  #scale: PlanScale = planScale([])
  readonly #lock = new LockController(this)

  constructor() {
    super()
    this.lamps = []
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (!changed.has('lamps')) return
    this.moving = undefined
    this.#scale = planScale(this.lamps)
  }

  override render(): TemplateResult {
    const { lamps, moving } = this
    const { width, height } = this.#scale
    const ratio = Math.max(1.2, Math.min(3.2, width / height))
    return html`<figure>
      <div class="wall ${lamps.length > MOST_NAMED ? 'crowded' : ''}" style="aspect-ratio:${ratio}">
        <svg
          role="img"
          aria-label="Plan of where the lamps hang; the table says it in numbers"
          viewBox="0 0 100 100"
          preserveAspectRatio="none"
        >
          ${lamps.map((lamp) => this.#stem(lamp))}
        </svg>
        ${lamps.map((lamp) => this.#lamp(lamp))}
      </div>
      <figcaption>
        <em>fig. 1</em> Where the lamps hang, seen from the audience. Arrow keys move a lamp by 0.1, with
        Shift by 1; x and y in the table do the same.
        <span role="status" class="figures"
          >${moving ? `${this.#nameOf(moving.id)}: x ${moving.x}, y ${moving.y}` : ''}</span
        >
      </figcaption>
    </figure>`
  }

  #at(lamp: Lamp): Pick<Lamp, 'x' | 'y'> {
    return this.moving?.id === lamp.id ? this.moving : lamp
  }

  #nameOf(id: string): string {
    return this.lamps.find((lamp) => lamp.id === id)?.name ?? id
  }

  #stem(lamp: Lamp) {
    const { across, down } = planPlace(this.#scale, this.#at(lamp))
    return svg`<line x1=${100 * across} y1="0" x2=${100 * across} y2=${100 * down}
      stroke="var(--bar)" vector-effect="non-scaling-stroke"></line>`
  }

  #lamp(lamp: Lamp): TemplateResult {
    const at = this.#at(lamp)
    const { across, down } = planPlace(this.#scale, at)
    return html`<button
      class="lamp"
      style="left:${100 * across}%;top:${100 * down}%"
      aria-disabled=${this.#lock.isOn ? 'true' : nothing}
      aria-label="Place of ${lamp.name}: x ${at.x}, y ${at.y}"
      @keydown=${(event: KeyboardEvent) => this.#key(event, lamp)}
      @keyup=${(event: KeyboardEvent) => event.key in STEPS && this.#settle()}
      @blur=${() => this.#settle()}
      @pointerdown=${(event: PointerEvent) => (event.target as Element).setPointerCapture(event.pointerId)}
      @pointermove=${(event: PointerEvent) => this.#drag(event, lamp)}
      @pointerup=${() => this.#settle()}
      @pointercancel=${() => void (this.moving = undefined)}
    >
      <span class="name" aria-hidden="true">${lamp.name}</span>
    </button>`
  }

  #key(event: KeyboardEvent, lamp: Lamp): void {
    if (event.key === 'Escape' && this.moving) {
      event.stopPropagation()
      this.moving = undefined
    }
    const step = STEPS[event.key]
    if (!step || this.#lock.isOn || event.ctrlKey || event.altKey || event.metaKey) return
    event.preventDefault()
    const { x, y } = this.#at(lamp)
    const by = event.shiftKey ? 1 : 0.1
    this.moving = { id: lamp.id, x: nudged(x, by * step[0]), y: nudged(y, by * step[1]) }
  }

  #drag(event: PointerEvent, lamp: Lamp): void {
    const target = event.target as Element
    const wall = target.closest('.wall')?.getBoundingClientRect()
    if (!wall || this.#lock.isOn || !target.hasPointerCapture(event.pointerId)) return
    if (event.movementX === 0 && event.movementY === 0) return
    const { width, height } = this.#scale
    const { x, y } = this.#at(lamp)
    const across = (event.movementX / wall.width) * width
    const down = (event.movementY / wall.height) * height
    this.moving = { id: lamp.id, x: nudged(x, across), y: nudged(y, -down) }
  }

  #settle(): void {
    const { moving } = this
    this.moving = undefined
    const lamp = this.lamps.find(({ id }) => id === moving?.id)
    if (!moving || !lamp || this.#lock.isOn) return
    const x = Number(moving.x.toFixed(2))
    const y = Number(moving.y.toFixed(2))
    if (lamp.x !== x || lamp.y !== y) propose(this, `lamp ${lamp.id} x`, setLamp(lamp.id, { x, y }))
  }
}

customElements.define('lan-rig-plan', LanRigPlan)
