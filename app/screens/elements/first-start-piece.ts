import type { PropertyDeclarations, TemplateResult } from 'lit'
import { html, LitElement } from 'lit'
import type { CommitEvent } from '../controllers/commit-event.ts'
import type { HouseView } from '../controllers/house-view.ts'
import type { Draft, DraftFault } from '../first-start/draft.ts'
import { EMPTY_DRAFT } from '../first-start/draft.ts'
import type { NumberKind } from '../rig/ranges.ts'
import './number-field.ts'

/** One question of the first start. */
export abstract class FirstStartPiece extends LitElement {
  static override properties: PropertyDeclarations = {
    draft: { attribute: false },
    change: { attribute: false },
    faults: { attribute: false },
    listed: { attribute: false },
  }
  declare draft: Draft
  declare change: (changes: Partial<Draft>) => void
  /** What is to be told now: nothing before somebody wants to go on. */
  declare faults: readonly DraftFault[]
  declare listed: HouseView['listed']

  constructor() {
    super()
    this.draft = EMPTY_DRAFT
    this.change = () => {}
    this.faults = []
  }

  protected faultAt(field: DraftFault['field']): string {
    return this.faults.find((fault) => fault.field === field)?.message ?? ''
  }

  protected number(
    field: 'lamps' | 'volts' | 'maxAmps' | 'watts',
    { label, unit = '', min = -Infinity, max, above, whole = false, step = 1 }: NumberKind,
  ): TemplateResult {
    return html`<lan-number-field
      .label=${label}
      .unit=${unit}
      .min=${min}
      .max=${max}
      .above=${above}
      .whole=${whole}
      .step=${step}
      .value=${this.draft[field]}
      @lan-commit=${({ value }: CommitEvent<number>) => this.change({ [field]: value })}
    ></lan-number-field>`
  }
}
