import type { PropertyDeclarations, TemplateResult } from 'lit'
import { css, html, nothing } from 'lit'
import { repeat } from 'lit/directives/repeat.js'
import type { Lamp } from '../../../src/domain/rig.ts'
import type { CommitEvent } from '../controllers/commit-event.ts'
import { propose } from '../controllers/edit-event.ts'
import type { FindController } from '../controllers/find-controller.ts'
import {
  addLamp,
  LAMP_FIELDS,
  moveLamp,
  removeLamp,
  renameLamp,
  setLamp,
  setLampHeat,
} from '../rig/lamp-edits.ts'
import type { PartUse } from '../rig/lamp-uses.ts'
import { lampUses, useText } from '../rig/lamp-uses.ts'
import { HEAT_NUMBERS, LAMP_NUMBERS } from '../rig/ranges.ts'
import { capital } from '../sheet/field-words.ts'
import { idFault } from '../sheet/new-id.ts'
import { controls } from '../style/controls.ts'
import { lampTable } from '../style/lamp-table.ts'
import { rigSheet } from '../style/rig-sheet.ts'
import './rig-plan.ts'
import { otherIds, RigPiece } from './rig-piece.ts'
import './switch-field.ts'

type NumberName = keyof typeof LAMP_NUMBERS
const PLACE: readonly NumberName[] = ['x', 'y']
const LIMITS: readonly NumberName[] = ['lowHz', 'highHz', 'minDuty', 'maxDuty', 'trimCents', 'delayMs']

/** The lamps: a plan of where they hang, and a table of what each is and can do. */
export class LanRigLamps extends RigPiece {
  static override properties: PropertyDeclarations = {
    ...RigPiece.properties,
    finder: { attribute: false },
    finding: { attribute: false },
    why: { attribute: false },
    removing: { state: true },
  }
  static override styles = [
    controls,
    rigSheet,
    lampTable,
    css`
      lan-rig-plan {
        margin-bottom: 1.2rem;
      }
    `,
  ]
  declare finder: FindController
  /** The lamp that is lit to be found. */
  declare finding: string | null
  /** Why the last one was not. */
  declare why: string
  declare private removing: string | undefined

  override render(): TemplateResult {
    const { lamps } = this.show.rig
    const lit = lamps.find(({ id }) => id === this.finding)
    return html`<div class="head">
        <h2>Lamps</h2>
        <button ?disabled=${this.isLocked} @click=${() => propose(this, 'lamps', addLamp)}>Add a lamp</button>
      </div>
      <lan-rig-plan .lamps=${lamps}></lan-rig-plan>
      <p role="status" class=${this.why ? 'fault' : 'finding'}>
        ${lit ? `${lit.name} is lit to be found.` : this.why}
      </p>
      ${this.#confirm()}
      <div class="scroll" role="region" aria-label="Table of lamps" tabindex="0">
        <table>
          <caption class="unseen">
            Every lamp: what it is called, how it is wired, where it hangs, what it can do
          </caption>
          <thead>
            <tr>
              <th scope="col" rowspan="2" class="first">Name</th>
              <td rowspan="2"></td>
              <th scope="col" rowspan="2">Id</th>
              <th scope="col" rowspan="2">Output</th>
              <th scope="col" rowspan="2" class="of-numbers">Slot</th>
              <th scope="col" rowspan="2">Supply</th>
              <th scope="col" rowspan="2" class="of-numbers">Watts</th>
              <th scope="colgroup" colspan="3">Bears in the mean</th>
              <th scope="colgroup" colspan="2">Hangs at</th>
              <th scope="colgroup" colspan="2">Rate, Hz</th>
              <th scope="colgroup" colspan="2">Duty</th>
              <th scope="col" rowspan="2" class="of-numbers">Trim<br />cents</th>
              <th scope="col" rowspan="2" class="of-numbers">Delay<br />ms</th>
              <td rowspan="2"></td>
            </tr>
            <tr>
              <th scope="col">less</th>
              <th scope="col" class="of-numbers">watts</th>
              <th scope="col" class="of-numbers">over, s</th>
              <th scope="col" class="of-numbers">x</th>
              <th scope="col" class="of-numbers">y</th>
              <th scope="col" class="of-numbers">lowest</th>
              <th scope="col" class="of-numbers">highest</th>
              <th scope="col" class="of-numbers">least</th>
              <th scope="col" class="of-numbers">most</th>
            </tr>
          </thead>
          <tbody>
            ${repeat(
              lamps,
              ({ id }) => id,
              (lamp) => this.#row(lamp),
            )}
          </tbody>
        </table>
      </div>
      ${this.listFault('lamps')}
      <p class="note">
        A lamp that bears less in the mean than it draws is held down, by its duty, to the watts that its
        maker gives for it, taken over so many seconds; until somebody says them, half of its watts over 10 s.
        Lanthorn counts that and measures no heat: a lamp in warm or still air bears less.
      </p>`
  }

  #row(lamp: Lamp): TemplateResult {
    const { id, name } = lamp
    const { lamps, outputs, supplies } = this.show.rig
    const isLit = this.finding === id
    const number = (field: NumberName): TemplateResult =>
      html`<td class="number">
        ${this.number(
          `lamp ${id} ${field}`,
          { ...LAMP_NUMBERS[field], label: capital(LAMP_FIELDS[field]) },
          lamp[field],
          (value) => setLamp(id, { [field]: value }),
          { bare: name },
        )}
      </td>`
    return html`<tr class=${isLit ? 'lit' : ''}>
      <th scope="row" class="first">
        ${this.text(`lamp ${id} name`, `Name of ${id}`, name, (value) => setLamp(id, { name: value }), { bare: true })}
      </th>
      <td>
        <button ?disabled=${this.isLocked} aria-pressed=${isLit} @click=${() => this.finder.press(id)}>
          Find<span class="unseen"> ${name}</span>
        </button>
      </td>
      <td class="id">
        ${this.text(`lamp ${id} id`, `Id of ${name}`, id, (value) => renameLamp(id, value), {
          bare: true,
          check: (text) => idFault(text, otherIds(lamps, lamp)),
        })}
      </td>
      <td class="choice">
        ${this.choice(`lamp ${id} output`, `Output of ${name}`, lamp.output, choicesOf(outputs), (value) => moveLamp(id, value), true)}
      </td>
      ${number('slot')}
      <td class="choice">
        ${this.choice(`lamp ${id} supply`, `Supply of ${name}`, lamp.supply, choicesOf(supplies), (value) => setLamp(id, { supply: value }), true)}
      </td>
      ${number('watts')} ${this.#heat(lamp)} ${PLACE.map(number)} ${LIMITS.map(number)}
      <td>
        ${
          lamps.length > 1
            ? html`<button ?disabled=${this.isLocked} @click=${() => this.#remove(id)}>
                Remove<span class="unseen"> ${name}</span>
              </button>`
            : nothing
        }
      </td>
    </tr>`
  }

  /** Whether it bears less in the mean than it draws, and then how much and over how long. */
  #heat({ id, name, heat }: Lamp): TemplateResult {
    const where = `lamp ${id} heat`
    const number = (field: keyof typeof HEAT_NUMBERS): TemplateResult =>
      html`<td class="number">
        ${
          heat
            ? this.number(
                `${where} ${field}`,
                HEAT_NUMBERS[field],
                heat[field],
                (value) => setLampHeat(id, { [field]: value }),
                { bare: name },
              )
            : nothing
        }
      </td>`
    return html`<td class="switch">
        <lan-switch-field
          bare
          .label=${`${name} bears less in the mean than it draws`}
          .value=${heat !== undefined}
          .fault=${this.faultAt(where)}
          @lan-commit=${({ value }: CommitEvent<boolean>) =>
            propose(this, where, setLampHeat(id, value ? {} : undefined))}
        ></lan-switch-field>
      </td>
      ${number('meanWatts')} ${number('seconds')}`
  }

  #remove(id: string): void {
    if (lampUses(this.show, id).length > 0) this.removing = id
    else propose(this, 'lamps', removeLamp(id, this.strategies))
  }

  #confirm(): TemplateResult | typeof nothing {
    const lamp = this.show.rig.lamps.find(({ id }) => id === this.removing)
    if (!lamp) return nothing
    const { id, name } = lamp
    const uses = lampUses(this.show, id)
    return html`<div class="asking" role="alert">
      <p>${useWords(name, uses)}</p>
      <div class="buttons">
        <button
          ?disabled=${this.isLocked}
          @click=${() => {
            this.removing = undefined
            propose(this, 'lamps', removeLamp(id, this.strategies))
          }}
        >
          Remove ${name}, also from ${uses.length === 1 ? 'that part' : 'these parts'}
        </button>
        <button @click=${() => void (this.removing = undefined)}>Keep ${name}</button>
      </div>
    </div>`
  }
}

function useWords(name: string, uses: readonly PartUse[]): string {
  const gone = uses.filter(({ goes }) => goes)
  const goes =
    gone.length === 0 ? '' : ` ${gone.map(useText).join(', ')} would have no lamp left, and would go with it.`
  return `${name} is a lamp of ${uses.map(useText).join(', ')}.${goes}`
}

function choicesOf(list: readonly { readonly id: string }[]): { value: string; text: string }[] {
  return list.map(({ id }) => ({ value: id, text: id }))
}

customElements.define('lan-rig-lamps', LanRigLamps)
