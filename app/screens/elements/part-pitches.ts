import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, LitElement, nothing } from 'lit'
import { controls } from '../style/controls.ts'
import { plate } from '../style/plate.ts'
import type { LampRows, Series } from '../tuning/pitch-rows.ts'
import { tallyOf } from '../tuning/pitch-rows.ts'
import { tallyWords } from '../tuning/tuning-words.ts'
import './cents-picture.ts'
import './pitch-rows.ts'

/** What the keys of a part become on its lamps: in a sentence, as a picture, and key by key. */
export class LanPartPitches extends LitElement {
  static override properties: PropertyDeclarations = {
    lamps: { attribute: false },
    series: { attribute: false },
    chosen: {},
    aside: {},
    isStale: { type: Boolean },
    nameOf: { attribute: false },
  }
  static override styles = [
    controls,
    plate,
    css`
      .words {
        margin: 0 0 0.75rem;
      }
    `,
  ]
  declare lamps: readonly LampRows[]
  declare series: readonly Series[]
  /** A lamp; empty: for each key the lamp that is farthest off. */
  declare chosen: string
  /** What else is to be known of these pitches. */
  declare aside: string
  /** The show has changed since. */
  declare isStale: boolean
  declare nameOf: (lamp: string) => string

  constructor() {
    super()
    this.lamps = []
    this.series = []
    this.chosen = ''
    this.aside = ''
    this.isStale = false
    this.nameOf = (lamp) => lamp
  }

  override render(): TemplateResult {
    const { lamps, chosen, nameOf } = this
    const words = tallyWords(
      tallyOf(chosen === '' ? lamps : lamps.filter((one) => one.lamp === chosen)),
      nameOf,
    )
    const unlit = lamps.flatMap((one) => (one.rows.length === 0 ? [nameOf(one.lamp)] : []))
    return html`<p class="words">${words}</p>
      ${this.aside === '' ? nothing : html`<p class="margin">${this.aside}</p>`}
      <p class="margin" role="status">
        ${this.isStale ? 'The show has changed; working out the pitches anew...' : ''}
      </p>
      ${
        unlit.length === 0
          ? nothing
          : html`<p class="margin">The strategy of this part never lights ${unlit.join(', ')}.</p>`
      }
      <lan-cents-picture
        .series=${this.series}
        .chosen=${chosen}
        .nameOf=${nameOf}
        .words=${words}
      ></lan-cents-picture>
      <p class="margin">
        <em>fig. 1, cents between what is wanted of a lamp and what its output makes, key by key.</em>
      </p>
      <lan-pitch-rows .lamps=${lamps} .chosen=${chosen} .nameOf=${nameOf}></lan-pitch-rows>`
  }
}

customElements.define('lan-part-pitches', LanPartPitches)
