import type { PropertyDeclarations, PropertyValues, TemplateResult } from 'lit'
import { html, LitElement, nothing, svg } from 'lit'
import type { Lamp } from '../../../src/domain/rig.ts'
import { propose } from '../controllers/edit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import { shiftLamp } from '../rig/lamp-edits.ts'
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

/** How far a lamp is from where the show has it. */
interface Moving {
  readonly id: string
  readonly right: number
  readonly up: number
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
    this.#scale = planScale(this.lamps)
  }

  override render(): TemplateResult {
    const { lamps } = this
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
        <span role="status" class="figures">${this.#words()}</span>
      </figcaption>
    </figure>`
  }

  #at(lamp: Lamp): Pick<Lamp, 'x' | 'y'> {
    const { right, up } = this.#way(lamp)
    return { x: nudged(lamp.x, right), y: nudged(lamp.y, up) }
  }

  #way({ id }: Lamp): Moving {
    return this.moving?.id === id ? this.moving : { id, right: 0, up: 0 }
  }

  #words(): string {
    const lamp = this.lamps.find(({ id }) => id === this.moving?.id)
    if (!lamp) return ''
    const { x, y } = this.#at(lamp)
    return `${lamp.name}: x ${x}, y ${y}`
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
    const by = event.shiftKey ? 1 : 0.1
    this.#move(lamp, by * step[0], by * step[1])
  }

  #drag(event: PointerEvent, lamp: Lamp): void {
    const target = event.target as Element
    const wall = target.closest('.wall')?.getBoundingClientRect()
    if (!wall || this.#lock.isOn || !target.hasPointerCapture(event.pointerId)) return
    if (event.movementX === 0 && event.movementY === 0) return
    const { width, height } = this.#scale
    this.#move(lamp, (event.movementX / wall.width) * width, (-event.movementY / wall.height) * height)
  }

  #move(lamp: Lamp, right: number, up: number): void {
    const way = this.#way(lamp)
    this.moving = { id: lamp.id, right: nudged(way.right, right), up: nudged(way.up, up) }
  }

  #settle(): void {
    const { moving } = this
    this.moving = undefined
    if (!moving || this.#lock.isOn) return
    propose(
      this,
      `lamp ${moving.id} x`,
      shiftLamp(moving.id, hundredths(moving.right), hundredths(moving.up)),
    )
  }
}

function hundredths(value: number): number {
  return Number(value.toFixed(2))
}

customElements.define('lan-rig-plan', LanRigPlan)
