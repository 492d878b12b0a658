import type { PropertyDeclarations, TemplateResult } from 'lit'
import { html, LitElement, nothing } from 'lit'
import type { StrategyForm } from '../../../src/contract/from-host.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { propose } from '../controllers/edit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import type { HouseView } from '../controllers/house-view.ts'
import type { NumberKind } from '../rig/ranges.ts'
import type { MakeEdit } from '../sheet/edit.ts'
import './number-field.ts'
import './select-field.ts'
import './text-field.ts'
import type { Choice } from './select-field.ts'

/** The field an edit was from, and why it was refused. */
export interface FieldFault {
  readonly where: string
  readonly message: string
}

interface NumberOptions {
  readonly bare?: string
  readonly optional?: boolean
  readonly hint?: string
}

/** What the pieces of the Rig have in common: the show they are of, what was refused last, and fields that propose edits. */
export abstract class RigPiece extends LitElement {
  static override properties: PropertyDeclarations = {
    show: { attribute: false },
    fault: { attribute: false },
    ports: { attribute: false },
    listed: { attribute: false },
    strategies: { attribute: false },
  }
  declare show: Show
  declare fault: FieldFault | undefined
  declare ports: HouseView['ports']
  declare listed: HouseView['listed']
  declare strategies: readonly StrategyForm[]
  readonly #lock = new LockController(this)

  protected get isLocked(): boolean {
    return this.#lock.isOn
  }

  protected faultAt(where: string): string {
    return this.fault?.where === where ? this.fault.message : ''
  }

  /** `bare`: what the field is of, where a table's head names the rest. */
  protected number(
    where: string,
    kind: NumberKind,
    value: number | null,
    make: (value: number) => MakeEdit,
    { bare, optional, hint }: NumberOptions = {},
    makeNone?: () => MakeEdit,
  ): TemplateResult {
    const { label, unit = '', min = -Infinity, max, above, whole = false, step = 1 } = kind
    return html`<lan-number-field
      .label=${bare === undefined ? label : `${label} of ${bare}${unit ? `, ${unit}` : ''}`}
      .unit=${unit}
      .min=${min}
      .max=${max}
      .above=${above}
      .whole=${whole}
      .step=${step}
      .value=${value}
      .optional=${optional ?? false}
      .hint=${hint ?? ''}
      .fault=${this.faultAt(where)}
      ?bare=${bare !== undefined}
      ?data-end=${bare !== undefined}
      @lan-commit=${(event: CommitEvent<number | null>) => {
        const next = event.value === null ? makeNone?.() : make(event.value)
        if (next) propose(this, where, next)
      }}
    ></lan-number-field>`
  }

  protected text(
    where: string,
    label: string,
    value: string,
    make: (value: string) => MakeEdit,
    { bare = false, check }: { bare?: boolean; check?: (text: string) => string } = {},
  ): TemplateResult {
    return html`<lan-text-field
      .label=${label}
      .value=${value}
      .check=${check}
      .fault=${this.faultAt(where)}
      ?bare=${bare}
      @lan-commit=${(event: CommitEvent<string>) => propose(this, where, make(event.value))}
    ></lan-text-field>`
  }

  protected choice(
    where: string,
    label: string,
    value: string,
    choices: readonly Choice[],
    make: (value: string) => MakeEdit,
    bare = false,
  ): TemplateResult {
    return html`<lan-select-field
      .label=${label}
      .value=${value}
      .choices=${choices}
      .fault=${this.faultAt(where)}
      ?bare=${bare}
      @lan-commit=${(event: CommitEvent<string>) => propose(this, where, make(event.value))}
    ></lan-select-field>`
  }

  /** What stands under a list where an edit of the list as a whole was refused. */
  protected listFault(where: string): TemplateResult | typeof nothing {
    const message = this.faultAt(where)
    return message ? html`<p class="fault" role="alert">${message}</p>` : nothing
  }
}

/** For the check of an id: those it must not be. */
export function otherIds<T extends { readonly id: string }>(list: readonly T[], own: T): string[] {
  return list.filter((one) => one !== own).map(({ id }) => id)
}
