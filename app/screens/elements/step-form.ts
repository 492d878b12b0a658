import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, nothing } from 'lit'
import type { Pattern, PatternRow, StruckStep } from '../../../src/domain/pattern.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { propose } from '../controllers/edit-event.ts'
import type { RowPlace } from '../steps/pattern-place.ts'
import { rowName } from '../steps/pattern-place.ts'
import { STEP_NUMBERS } from '../steps/ranges.ts'
import { moveRow, removeRow, setRowField, setRowLength } from '../steps/row-edits.ts'
import { setStep, setStepField } from '../steps/step-edits.ts'
import { controls } from '../style/controls.ts'
import { stepFields } from '../style/step-fields.ts'
import './key-field.ts'
import { RigPiece } from './rig-piece.ts'
import './switch-field.ts'

/** Everything about the chosen step, and about its row. Edits come from `step.FIELD` and `row.FIELD`. */
export class LanStepForm extends RigPiece {
  static override properties: PropertyDeclarations = {
    ...RigPiece.properties,
    songId: {},
    pattern: { attribute: false },
    row: { attribute: false },
    index: { type: Number },
    lamps: { attribute: false },
  }
  static override styles = [
    controls,
    stepFields,
    css`
      section + section {
        margin-top: 1.1rem;
        padding-top: 0.9rem;
        border-top: 1px solid var(--bar);
      }
    `,
  ]
  declare songId: string
  declare pattern: Pattern
  declare row: PatternRow
  declare index: number
  /** Lamps that a row may have, by their ids. */
  declare lamps: readonly string[]
  /** What a rest sounds once it is none. */
  #last: StruckStep = { note: 60 }

  override render(): TemplateResult {
    const { row, index } = this
    const step = row.steps[index] ?? 0
    if (step !== 0) this.#last = step
    const name = rowName(this.show, row)
    return html`<section aria-label="The chosen step">
        <h2>Step ${index + 1} of <em>${name}</em></h2>
        <div class="fields">
          ${this.choice(
            'step.kind',
            'It is',
            step === 0 ? 'rest' : 'note',
            [
              { value: 'note', text: 'a note' },
              { value: 'rest', text: 'a rest' },
            ],
            (kind) => setStep(this.#place, index, kind === 'rest' ? 0 : this.#last),
          )}
          ${step === 0 ? nothing : this.#note(step)}
        </div>
      </section>
      ${this.#row(name)}`
  }

  get #place(): RowPlace {
    return { song: this.songId, pattern: this.pattern.id, row: this.row.id }
  }

  #note(step: StruckStep): TemplateResult {
    const { pattern, index } = this
    const field = (name: 'duty' | 'gate' | 'chance', hint: string): TemplateResult =>
      this.number(
        `step.${name}`,
        STEP_NUMBERS[name],
        step[name] ?? null,
        (value) => setStepField(this.#place, index, name, value),
        { optional: true, hint },
        () => setStepField(this.#place, index, name, undefined),
      )
    return html`<lan-key-field
        label="Note"
        hint="By name or number."
        fault=${this.faultAt('step.note')}
        .value=${step.note}
        @lan-commit=${({ value }: CommitEvent<number>) =>
          propose(this, 'step.note', setStepField(this.#place, index, 'note', value))}
      ></lan-key-field>
      ${field('duty', 'Empty: as the part gives it.')}
      ${field('gate', `Empty: ${pattern.gate}, as the pattern.`)}
      ${field('chance', 'From 0 to 1. Empty: always.')}
      <lan-switch-field
        label="Accent"
        fault=${this.faultAt('step.accent')}
        .value=${step.accent === true}
        @lan-commit=${({ value }: CommitEvent<boolean>) =>
          propose(this, 'step.accent', setStepField(this.#place, index, 'accent', value ? true : undefined))}
      ></lan-switch-field>`
  }

  #row(name: string): TemplateResult {
    const { row, pattern } = this
    const { rows } = pattern
    const place = rows.indexOf(row)
    const shut = this.isLocked
    return html`<section aria-label="Its row">
      <h2>Row <em>${name}</em></h2>
      <div class="fields">
        ${this.choice(
          'row.lamp',
          'Lamp',
          row.lamp,
          [...new Set([...this.lamps, row.lamp])].map((id) => ({ value: id, text: this.#lampName(id) })),
          (lamp) => setRowField(this.#place, 'lamp', lamp),
        )}
        ${this.number('row.length', STEP_NUMBERS.length, row.steps.length, (length) => setRowLength(this.#place, length))}
        ${this.number(
          'row.swing',
          STEP_NUMBERS.swing,
          row.swing ?? null,
          (swing) => setRowField(this.#place, 'swing', swing),
          { optional: true, hint: `Empty: ${pattern.swing}, as the pattern.` },
          () => setRowField(this.#place, 'swing', undefined),
        )}
        <lan-switch-field
          label="Muted as the song begins"
          fault=${this.faultAt('row.muted')}
          .value=${row.muted}
          @lan-commit=${({ value }: CommitEvent<boolean>) =>
            propose(this, 'row.muted', setRowField(this.#place, 'muted', value))}
        ></lan-switch-field>
      </div>
      <div class="ends">
        <button
          ?disabled=${shut || place <= 0}
          @click=${() => propose(this, 'row', moveRow(this.#place, -1))}
        >
          Row up
        </button>
        <button
          ?disabled=${shut || place >= rows.length - 1}
          @click=${() => propose(this, 'row', moveRow(this.#place, 1))}
        >
          Row down
        </button>
        <button ?disabled=${shut} @click=${() => propose(this, 'row', removeRow(this.#place))}>
          Remove the row
        </button>
      </div>
      ${this.listFault('row')}
    </section>`
  }

  #lampName(id: string): string {
    return this.show.rig.lamps.find((lamp) => lamp.id === id)?.name ?? id
  }
}

customElements.define('lan-step-form', LanStepForm)

declare global {
  interface HTMLElementTagNameMap {
    'lan-step-form': LanStepForm
  }
}
