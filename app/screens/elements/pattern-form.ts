import type { PropertyDeclarations, TemplateResult } from 'lit'
import { html } from 'lit'
import type { Pattern } from '../../../src/domain/pattern.ts'
import type { Song } from '../../../src/domain/song.ts'
import { propose } from '../controllers/edit-event.ts'
import { removePattern, setPatternField } from '../steps/pattern-edits.ts'
import { playsPatterns } from '../steps/pattern-parts.ts'
import type { PatternPlace } from '../steps/pattern-place.ts'
import { STEP_NUMBERS } from '../steps/ranges.ts'
import { controls } from '../style/controls.ts'
import { stepFields } from '../style/step-fields.ts'
import { RigPiece } from './rig-piece.ts'

const ADVANCES = [
  { value: 'hit', text: 'hits on pads' },
  { value: 'clock', text: 'the clock' },
  { value: 'both', text: 'hits and the clock' },
]

/** What a pattern is called, what moves it, and how its steps sound where they do not say otherwise. Edits come from `pattern.FIELD`; a copy is asked for by `lan-copy`. */
export class LanPatternForm extends RigPiece {
  static override properties: PropertyDeclarations = {
    ...RigPiece.properties,
    song: { attribute: false },
    pattern: { attribute: false },
  }
  static override styles = [controls, stepFields]
  declare song: Song
  declare pattern: Pattern

  override render(): TemplateResult {
    const { pattern } = this
    const isNeeded = this.song.patterns.length === 1 && this.song.parts.some(playsPatterns)
    return html`<h2>The pattern</h2>
      <div class="fields">
        ${this.text('pattern.name', 'Name', pattern.name, (name) => setPatternField(this.#place, 'name', 'Name', name))}
        ${this.choice('pattern.advance', 'Moved by', pattern.advance, ADVANCES, (advance) =>
          setPatternField(this.#place, 'advance', 'What moves', advance as Pattern['advance']),
        )}
        ${this.text(
          'pattern.division',
          'Clock’s step',
          pattern.division,
          (division) => setPatternField(this.#place, 'division', 'Clock’s step', division),
          { check: divisionFault },
        )}
        ${this.#number('swing', 'Swing')} ${this.#number('gate', 'How long steps sound')}
        ${this.number(
          'pattern.gateMs',
          STEP_NUMBERS.gateMs,
          pattern.gateMs ?? null,
          (ms) => setPatternField(this.#place, 'gateMs', 'How long hits sound', ms),
          { optional: true, hint: 'Empty: by the time between hits.' },
          () => setPatternField(this.#place, 'gateMs', 'How long hits sound', undefined),
        )}
        ${this.#number('accentTimes', 'Accent')}
      </div>
      <div class="ends">
        <button ?disabled=${this.isLocked} @click=${() => this.dispatchEvent(new Event('lan-copy'))}>
          Copy the pattern
        </button>
        <button
          ?disabled=${this.isLocked || isNeeded}
          @click=${() => propose(this, 'pattern', removePattern(this.#place))}
        >
          Remove the pattern
        </button>
      </div>
      ${isNeeded ? html`<p class="soft">It is the only one, and a part plays it.</p>` : this.listFault('pattern')}`
  }

  get #place(): PatternPlace {
    return { song: this.song.id, pattern: this.pattern.id }
  }

  #number(field: 'swing' | 'gate' | 'accentTimes', called: string): TemplateResult {
    return this.number(`pattern.${field}`, STEP_NUMBERS[field], this.pattern[field], (value) =>
      setPatternField(this.#place, field, called, value),
    )
  }
}

function divisionFault(text: string): string {
  const [, count, parts] = /^(\d+)\/(\d+)$/.exec(text) ?? []
  return Number(count) > 0 && Number(parts) > 0 ? '' : 'expected a note value such as 1/16 or 3/8'
}

customElements.define('lan-pattern-form', LanPatternForm)

declare global {
  interface HTMLElementTagNameMap {
    'lan-pattern-form': LanPatternForm
  }
}
