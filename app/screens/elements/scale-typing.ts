import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, LitElement } from 'lit'
import type { ScalePitch } from '../../../src/domain/tuning-spec.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { propose } from '../controllers/edit-event.ts'
import { LockController } from '../controllers/gig-lock.ts'
import { controls } from '../style/controls.ts'
import { pitchesWords } from '../tuning/pitch-text.ts'
import { addScale, SCALE_REFERENCE } from '../tuning/tuning-edits.ts'
import type { LanPitchesField } from './pitches-field.ts'
import './pitches-field.ts'
import './text-field.ts'

/** A scale that is typed pitch by pitch, and then put into the show (`lan-edit`). */
export class LanScaleTyping extends LitElement {
  static override properties: PropertyDeclarations = {
    called: { state: true },
    pitches: { state: true },
  }
  static override styles = [
    controls,
    css`
      :host {
        display: grid;
        gap: 0.75rem;
        max-width: 34rem;
      }
      p {
        margin: 0;
      }
      div {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem 1rem;
        align-items: center;
      }
    `,
  ]
  declare private called: string
  declare private pitches: readonly ScalePitch[]
  readonly #lock = new LockController(this)

  constructor() {
    super()
    this.called = ''
    this.pitches = []
  }

  override render(): TemplateResult {
    return html`<lan-text-field
        label="What it is called"
        optional
        .longest=${200}
        .value=${this.called}
        @lan-commit=${(event: CommitEvent<string>) => {
          event.stopPropagation()
          this.called = event.value
        }}
      ></lan-text-field>
      <lan-pitches-field
        label="Pitches over the first, which is 1/1"
        .value=${this.pitches}
        @lan-commit=${(event: CommitEvent<readonly ScalePitch[]>) => {
          event.stopPropagation()
          this.pitches = event.value
        }}
      ></lan-pitches-field>
      <p class="soft" role="status">
        ${this.pitches.length === 0 ? 'Its first sounds middle C, C4 (60); that can be changed once it is there.' : pitchesWords(this.pitches)}
      </p>
      <div>
        <button type="button" ?disabled=${this.#lock.isOn} @click=${() => this.#add()}>
          Put it into the show
        </button>
      </div>`
  }

  #add(): void {
    const field = this.renderRoot.querySelector<LanPitchesField>('lan-pitches-field')
    if (field?.isRefusing === true) return field.focus()
    const { called: name, pitches } = this
    if (pitches.length === 0) return field?.focus()
    propose(this, 'add', addScale({ name, pitches: [...pitches], ...SCALE_REFERENCE }))
    this.called = ''
    this.pitches = []
  }
}

customElements.define('lan-scale-typing', LanScaleTyping)
