import type { PropertyValues, TemplateResult } from 'lit'
import { html, LitElement, svg } from 'lit'
import type { LampStatus } from '../../../src/contract/from-engine.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import type { PlanLayout, Spot } from '../stage/plan-layout.ts'
import { planLayout } from '../stage/plan-layout.ts'
import { isPulse } from '../stage/pulse.ts'
import { controls } from '../style/controls.ts'
import type { OwnerMark } from '../style/owner-mark.ts'
import { ownerMark } from '../style/owner-mark.ts'
import { plan } from '../style/plan.ts'
import { many } from '../wording/figures.ts'
import { lampFigure } from './lamp-figure.ts'

/** Every lamp as it hangs, with what it does. For the eye: `lan-lamp-table` says the same in words. */
export class LanLampPlan extends LitElement {
  static override properties = {
    show: { attribute: false },
    song: { attribute: false },
    lamps: { attribute: false },
    width: { state: true },
    height: { state: true },
  }
  static override styles = [controls, plan]
  declare show: Show
  declare song: Song | undefined
  declare lamps: ReadonlyMap<string, LampStatus>
  /** Of the room there is, in pixels. */
  declare width: number
  declare height: number
  #layout: PlanLayout | undefined
  #stems: TemplateResult | undefined
  #marks = new Map<string, OwnerMark>()
  /** Player by part. */
  #players = new Map<string, string>()
  readonly #size = new ResizeObserver(() => {
    this.width = this.clientWidth
    this.height = this.clientHeight
  })

  constructor() {
    super()
    this.song = undefined
    this.lamps = new Map()
    this.width = 0
    this.height = 0
  }

  override connectedCallback(): void {
    super.connectedCallback()
    this.#size.observe(this)
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    this.#size.disconnect()
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('show')) {
      const { players } = this.show
      this.#marks = new Map(players.map(({ id }) => [id, ownerMark(players, id)]))
    }
    if (changed.has('song')) {
      this.#players = new Map(this.song?.parts.map(({ id, player }) => [id, player]))
    }
    if (changed.has('show') || changed.has('width') || changed.has('height')) this.#arrange()
  }

  override render(): TemplateResult {
    const { plate, spots, height } = this.#layout ?? {}
    const { lamps } = this.show.rig
    if (!plate || !spots) return html``
    return html`<div
      class="plan ${plate.size}"
      role="img"
      aria-label="Plan of ${many(lamps.length, 'lamp')} as they hang; the table says the same in words"
      style="height:${height}px;--plate-width:${plate.width}px;--plate-height:${plate.height}px"
    >
      ${this.#stems}
      ${lamps.map(({ id, name }, index) => this.#lamp(id, name, spots[index] ?? { left: 0, top: 0 }))}
    </div>`
  }

  #lamp(id: string, name: string, spot: Spot): TemplateResult {
    const status = this.lamps.get(id)
    const { claimedBy } = status ?? {}
    // A dark lamp bears the mark of whom it is kept for.
    const player = status?.player ?? this.#players.get(claimedBy ?? '') ?? ''
    const owner = this.#marks.get(player)
    const isClaimed = claimedBy !== undefined
    const pulses = status !== undefined && isPulse(this.song, status)
    return lampFigure({ name, status, owner, isClaimed, isPulse: pulses, spot })
  }

  #arrange(): void {
    if (this.width === 0 || this.height === 0) return
    // The bar needs a little of the height.
    const layout = planLayout(this.show.rig.lamps, { width: this.width, height: this.height - BAR })
    const spots = layout.spots.map(({ left, top }) => ({
      left: Math.round(left),
      top: Math.round(top) + BAR,
    }))
    this.#layout = { ...layout, spots, height: layout.height + BAR }
    // What scrolls is to be scrolled by keys too.
    if (layout.height + BAR > this.height) this.tabIndex = 0
    else this.removeAttribute('tabindex')
    const middle = layout.plate.width / 2
    const stems = spots.map(({ left, top }) => `M${left + middle + 0.5} ${BAR / 2}V${top + 2}`).join('')
    this.#stems = html`<svg class="stems">
      ${svg`<path d="M0 ${BAR / 2 - 1.5}H${this.width}M0 ${BAR / 2 + 1.5}H${this.width}"></path><path d=${stems}></path>`}
    </svg>`
  }
}

/** Pixels for the bar that lamps hang from. */
const BAR = 12

customElements.define('lan-lamp-plan', LanLampPlan)
