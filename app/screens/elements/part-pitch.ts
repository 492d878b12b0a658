import type { TemplateResult } from 'lit'
import { html, LitElement } from 'lit'
import type { Glide, Pulse, Vibrato } from '../../../src/domain/part-motion.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Part, Song } from '../../../src/domain/song.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { propose } from '../controllers/edit-event.ts'
import { setPartField } from '../sheet/part-edits.ts'
import { controls } from '../style/controls.ts'
import { formSection } from '../style/form-section.ts'
import './glide-form.ts'
import './pulse-form.ts'
import './select-field.ts'
import './vibrato-form.ts'

const OF_THE_SONG = ''

/** What a part's lamps do with the pitch of its notes: in which tuning, how from one to the next, and whether they sound them at all. Tells edits (`lan-edit`). */
export class LanPartPitch extends LitElement {
  static override properties = {
    show: { attribute: false },
    song: { attribute: false },
    chosen: { attribute: false },
    fault: { attribute: false },
  }
  static override styles = [controls, formSection]
  declare show: Show
  declare song: Song
  declare chosen: Part
  declare fault: { readonly where: string; readonly message: string } | undefined

  override render(): TemplateResult {
    const { chosen: part, show, song } = this
    return html`<section>
        <h3>Tuning</h3>
        <lan-select-field
          label="Tuning of the part"
          fault=${this.#faultAt('tuning')}
          .value=${part.tuning ?? OF_THE_SONG}
          .choices=${[
            { value: OF_THE_SONG, text: `the song’s: ${song.tuning}` },
            ...show.tunings.map(({ id }) => ({ value: id, text: id })),
          ]}
          @lan-commit=${(event: CommitEvent<string>) =>
            this.#set(event, 'tuning', event.value === OF_THE_SONG ? undefined : event.value, 'Tuning')}
        ></lan-select-field>
      </section>
      <section>
        <h3>Glide</h3>
        <lan-glide-form
          fault=${this.#faultAt('glide')}
          .value=${part.glide}
          @lan-commit=${(event: CommitEvent<Glide | null>) => this.#set(event, 'glide', event.value, 'Glide')}
        ></lan-glide-form>
      </section>
      <section>
        <h3>Vibrato</h3>
        <lan-vibrato-form
          fault=${this.#faultAt('vibrato')}
          .value=${part.vibrato}
          @lan-commit=${(event: CommitEvent<Vibrato | null>) =>
            this.#set(event, 'vibrato', event.value, 'Vibrato')}
        ></lan-vibrato-form>
      </section>
      <section>
        <h3>Pulse</h3>
        <lan-pulse-form
          fault=${this.#faultAt('pulse')}
          .tempo=${song.tempo}
          .value=${part.pulse}
          @lan-commit=${(event: CommitEvent<Pulse | null>) => this.#set(event, 'pulse', event.value, 'Pulse')}
        ></lan-pulse-form>
      </section>`
  }

  #faultAt(where: string): string {
    return this.fault?.where === `part.${where}` ? this.fault.message : ''
  }

  /** null and undefined: it has none. */
  #set(event: Event, field: keyof Part & string, value: unknown, called: string): void {
    event.stopPropagation()
    const place = { song: this.song.id, part: this.chosen.id }
    propose(this, `part.${field}`, setPartField(place, field, value ?? undefined, called))
  }
}

customElements.define('lan-part-pitch', LanPartPitch)
