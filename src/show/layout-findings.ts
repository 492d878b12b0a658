import type { Cursor } from './cursor.ts'
import { field, numberOf } from './cursor.ts'
import type { Finding } from './show-fault.ts'

/** MIDI 1.0 keeps these for parameter numbers and their values; a duty sent on them would change the bend range. */
const PARAMETER_CONTROLLERS: readonly unknown[] = [6, 38, 96, 97, 98, 99, 100, 101]

/** What a MIDI output's layout has no room for: a channel past 16, a key past 127, the manager's channel of an MPE zone. */
export function layoutFindings(output: Cursor, lamps: readonly Cursor[]): Finding[] {
  if (field(output, 'kind').value !== 'midi') return []
  const onIt = lamps.filter((lamp) => field(lamp, 'output').value === field(output, 'id').value)
  const isNotes = field(output, 'layout').value === 'note-per-lamp'
  return [
    ...managerChannel(output),
    ...dutyController(field(output, 'dutyController')),
    ...onIt.flatMap((lamp) =>
      isNotes
        ? past(lamp, field(output, 'firstNote'), 127, 'key')
        : past(lamp, field(output, 'firstChannel'), 16, 'channel'),
    ),
  ]
}

function managerChannel(output: Cursor): Finding[] {
  const first = field(output, 'firstChannel')
  if (field(output, 'layout').value !== 'mpe' || first.value !== 1) return []
  const found = "found 1, which is the manager's channel of an MPE lower zone"
  return [{ path: first.path, found, expected: 'a whole number from 2 to 16' }]
}

function dutyController(controller: Cursor): Finding[] {
  if (!PARAMETER_CONTROLLERS.includes(controller.value)) return []
  const found = `controller ${String(controller.value)} carries parameter numbers`
  return [{ path: controller.path, found, expected: 'another controller, such as 74' }]
}

function past(lamp: Cursor, first: Cursor, last: number, noun: string): Finding[] {
  const slot = field(lamp, 'slot')
  const number = numberOf(slot)
  const from = numberOf(first)
  if (number === undefined || from === undefined || from > last || from + number <= last) return []
  const found = `slot ${number} would be ${noun} ${from + number}`
  return [{ path: slot.path, found, expected: `a slot from 0 to ${last - from} on this output` }]
}
