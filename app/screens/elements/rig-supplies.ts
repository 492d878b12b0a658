import type { TemplateResult } from 'lit'
import { html } from 'lit'
import type { Supply } from '../../../src/domain/rig.ts'
import { propose } from '../controllers/edit-event.ts'
import { SUPPLY_NUMBERS } from '../rig/ranges.ts'
import { isOver, loadText, supplyLoad } from '../rig/supply-load.ts'
import { addSupply, lampsOn, removeSupply, renameSupply, setSupply } from '../rig/wiring-edits.ts'
import { capital } from '../sheet/field-words.ts'
import { idFault } from '../sheet/new-id.ts'
import { controls } from '../style/controls.ts'
import { rigSheet } from '../style/rig-sheet.ts'
import { many } from '../wording/figures.ts'
import { otherIds, RigPiece } from './rig-piece.ts'

/** The supplies, and what all lamps of each would draw. */
export class LanRigSupplies extends RigPiece {
  static override styles = [controls, rigSheet]

  override render(): TemplateResult {
    return html`<div class="head">
        <h2>Supplies</h2>
        <button ?disabled=${this.isLocked} @click=${() => propose(this, 'supplies', addSupply)}>
          Add a supply
        </button>
      </div>
      <div class="cards">${this.show.rig.supplies.map((supply) => this.#card(supply))}</div>
      ${this.listFault('supplies')}
      <p class="note">
        Amps are watts over volts of every lamp that is lit. Real lamps and wiring differ: go by their makers,
        your local codes and whoever is licensed for it.
      </p>`
  }

  #card(supply: Supply): TemplateResult {
    const { id } = supply
    const { rig, guards } = this.show
    const load = supplyLoad(rig, supply)
    const where = `supply ${id}`
    const number = (field: keyof typeof SUPPLY_NUMBERS): TemplateResult =>
      this.number(`${where} ${field}`, SUPPLY_NUMBERS[field], supply[field], (value) =>
        setSupply(id, field, value),
      )
    return html`<section class="card" aria-label="Supply ${id}">
      <h3>${id}</h3>
      <p class="figures ${isOver(load) ? 'over' : ''}">${loadText(load, supply, guards.supply.action)}</p>
      <div class="grid">
        ${this.text(`${where} id`, 'Id', id, (value) => renameSupply(id, value), {
          check: (text) => idFault(text, otherIds(rig.supplies, supply)),
        })}
        ${number('volts')} ${number('maxAmps')} ${number('usable')}
      </div>
      ${this.#end(id)}
    </section>`
  }

  #end(id: string): TemplateResult {
    const lamps = lampsOn(this.show, 'supply', id)
    const isOnly = this.show.rig.supplies.length === 1
    const why = isOnly
      ? 'A rig has at least one supply.'
      : `${many(lamps, 'lamp')} ${lamps === 1 ? 'hangs' : 'hang'} on it: give ${lamps === 1 ? 'it' : 'them'} another supply first.`
    if (isOnly || lamps > 0) return html`<p class="ends soft">${capital(why)}</p>`
    return html`<div class="ends">
      <button ?disabled=${this.isLocked} @click=${() => propose(this, 'supplies', removeSupply(id))}>
        Remove supply ${id}
      </button>
    </div>`
  }
}

customElements.define('lan-rig-supplies', LanRigSupplies)
