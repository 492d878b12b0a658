import type { PropertyDeclarations, TemplateResult } from 'lit'
import { html, LitElement } from 'lit'
import { CommitEvent } from '../controllers/commit-event.ts'
import { controls } from '../style/controls.ts'
import { fieldGrid } from '../style/field-grid.ts'
import './number-field.ts'
import './select-field.ts'

/** A form of a few fields for one thing that is there or not. Commits the whole of it (`lan-commit`, a Value, or null for none). */
export abstract class WholeForm<Value extends object> extends LitElement {
  static override properties: PropertyDeclarations = { value: { attribute: false }, fault: {} }
  static override styles = [controls, fieldGrid]
  declare value: Value | undefined
  declare fault: string

  constructor() {
    super()
    this.fault = ''
  }

  /** One of its numbers, to be typed. */
  protected number(
    value: Value,
    name: keyof Value,
    label: string,
    unit: string,
    { min = -Infinity, above, max, step = 1, whole = false }: Bounds,
  ): TemplateResult {
    return html`<lan-number-field
      label=${label}
      unit=${unit}
      ?whole=${whole}
      .min=${min}
      .above=${above}
      .max=${max}
      .step=${step}
      .value=${value[name] ?? null}
      @lan-commit=${(event: CommitEvent<number>) => this.commit(event, { ...value, [name]: event.value })}
    ></lan-number-field>`
  }

  /** In place of what one of its fields said. */
  protected commit(event: Event, value: Value | null): void {
    event.stopPropagation()
    this.dispatchEvent(new CommitEvent(value))
  }
}

interface Bounds {
  readonly min?: number
  readonly above?: number
  readonly max: number
  readonly step?: number
  readonly whole?: boolean
}
