import type { ShowChange } from '../../../src/contract/to-host.ts'
import type { MidiOutput, MtsForm, Output, SerialOutput, Supply } from '../../../src/domain/rig.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Edit, MakeEdit } from '../sheet/edit.ts'
import { insert, remove, set } from '../sheet/edit.ts'
import { freeId } from './plant-names.ts'

/** A port that nobody has chosen yet is called so in the show: a port must be called something. */
export const NOT_CHOSEN = 'not chosen yet'

const SUPPLY_WORDS = { volts: 'volts', maxAmps: 'amps', usable: 'usable share' } as const

export function setSupply(id: string, field: keyof typeof SUPPLY_WORDS, value: number): MakeEdit {
  return ({ rig }) => {
    const place = rig.supplies.findIndex((supply) => supply.id === id)
    if (place < 0) return undefined
    const changes = [set(['rig', 'supplies', place, field], value)]
    return { label: `${SUPPLY_WORDS[field]} of supply ${id}`, changes }
  }
}

export function addSupply({ rig }: Show): Edit {
  const like = rig.supplies.at(-1)
  const id = freeId('supply', rig.supplies)
  const supply: Supply = { ...(like ?? { volts: 12, maxAmps: 5, usable: 0.8 }), id }
  const changes = [insert(['rig', 'supplies', rig.supplies.length], supply)]
  return { label: `supply ${id} added`, changes }
}

/** Another id, in the list and for the lamps that hang on it. */
export function renameSupply(from: string, to: string): MakeEdit {
  return (show) => renamed(show, 'supplies', 'supply', from, to)
}

export function renameOutput(from: string, to: string): MakeEdit {
  return (show) => {
    const edit = renamed(show, 'outputs', 'output', from, to)
    const thru = show.thru.flatMap((one, place) => (one.to === from ? [set(['thru', place, 'to'], to)] : []))
    return edit && { ...edit, changes: [...edit.changes, ...thru] }
  }
}

function renamed(
  { rig }: Show,
  list: 'supplies' | 'outputs',
  field: 'supply' | 'output',
  from: string,
  to: string,
): Edit | undefined {
  const place = rig[list].findIndex(({ id }) => id === from)
  if (place < 0) return undefined
  const lamps = rig.lamps.flatMap((lamp, lampPlace) =>
    lamp[field] === from ? [set(['rig', 'lamps', lampPlace, field], to)] : [],
  )
  const changes = [set(['rig', list, place, 'id'], to), ...lamps]
  return { label: `id of ${field} ${from}`, changes }
}

/** Only for one that no lamp hangs on. */
export function removeSupply(id: string): MakeEdit {
  return ({ rig }) => {
    const place = rig.supplies.findIndex((supply) => supply.id === id)
    if (place < 0) return undefined
    return { label: `supply ${id} removed`, changes: [remove(['rig', 'supplies', place])] }
  }
}

type OutputValues = Partial<Omit<SerialOutput, 'id' | 'kind'> & Omit<MidiOutput, 'id' | 'kind'>>

/** `words`: what is set, for undo. A null takes the field away. */
export function setOutput(
  id: string,
  words: string,
  values: { readonly [F in keyof OutputValues]: OutputValues[F] | null },
): MakeEdit {
  return ({ rig }) => {
    const place = rig.outputs.findIndex((output) => output.id === id)
    const output = rig.outputs[place]
    if (!output) return undefined
    const changes = Object.entries(values).flatMap(([field, value]) => {
      const path = ['rig', 'outputs', place, field]
      if (value !== null) return [set(path, value)]
      return Object.hasOwn(output, field) ? [remove(path)] : []
    })
    return { label: `${words} of output ${id}`, changes }
  }
}

/** Semitones of a full bend where nobody has said otherwise (MIDI 1.0; MIDI Polyphonic Expression 1.0), as in the show file. */
const USUAL_RANGE = { plain: 2, mpe: 48 } as const

/** An MPE zone keeps channel 1 for its manager. A bend range that is the usual one of a layout goes with it. */
export function setLayout(output: MidiOutput, layout: MidiOutput['layout']): MakeEdit {
  const [before, after] = [output.layout, layout].map((one) => USUAL_RANGE[one === 'mpe' ? 'mpe' : 'plain'])
  return setOutput(output.id, 'layout', {
    layout,
    ...(layout === 'mpe' && output.firstChannel === 1 ? { firstChannel: 2 } : {}),
    ...(output.bendRange === before && before !== after ? { bendRange: after } : {}),
  })
}

/** Whether and how an output is told the song's tuning; empty: it is not. Its numbers are the usual ones first: program 0, all devices. */
export function setTelling({ id, mts }: MidiOutput, form: MtsForm | ''): MakeEdit {
  if (form === '') return setOutput(id, 'telling the tuning', { mts: null })
  const { program = 0, device = 127 } = mts ?? {}
  return setOutput(id, 'telling the tuning', { mts: { form, program, device } })
}

export function addOutput(kind: Output['kind'], port: string): MakeEdit {
  return ({ rig }) => {
    const id = freeId(kind === 'serial' ? 'wire' : 'din', rig.outputs)
    const value = kind === 'serial' ? newSerial(id, port) : newMidi(id, port)
    const path = ['rig', 'outputs', rig.outputs.length]
    return { label: `output ${id} added`, changes: [insert(path, value)] }
  }
}

/** The defaults of the show file: the 16-bit timer of a 16 MHz AVR. */
function newSerial(id: string, port: string) {
  const timer = { clockHz: 16_000_000, prescalers: [1, 8, 64, 256, 1024], bits: 16 }
  return { id, kind: 'serial', port, baud: 500_000, timer, offsetMs: 0 }
}

function newMidi(id: string, port: string) {
  const layout = 'channel-per-lamp'
  return {
    id,
    kind: 'midi',
    port,
    layout,
    firstChannel: 1,
    firstNote: 36,
    bendRange: 2,
    bendBits: 14,
    offsetMs: 0,
  }
}

/** With what goes through to it; only for one that no lamp hangs on. */
export function removeOutput(id: string): MakeEdit {
  return ({ rig, thru }) => {
    const place = rig.outputs.findIndex((output) => output.id === id)
    if (place < 0) return undefined
    const changes = [...removeThru(thru, ({ to }) => to === id), remove(['rig', 'outputs', place])]
    return { label: `output ${id} removed`, changes }
  }
}

/** Last first, so that the places before stay what they are. */
export function removeThru(thru: Show['thru'], isGone: (one: Show['thru'][number]) => boolean): ShowChange[] {
  const places = thru.flatMap((one, place) => (isGone(one) ? [place] : []))
  return places.toReversed().map((place) => remove(['thru', place]))
}

/** How many lamps hang on each id of a list. */
export function lampsOn({ rig }: Show, field: 'supply' | 'output', id: string): number {
  return rig.lamps.filter((lamp) => lamp[field] === id).length
}
