import type { Cursor } from './cursor.ts'
import { field, items, numberOf, textOf } from './cursor.ts'
import { quote } from './found.ts'
import { layoutFindings } from './layout-findings.ts'
import { pathText } from './json-path.ts'
import type { Finding } from './show-fault.ts'

/** What does not go together in the rig: limits that cross, slots taken twice, slots that the output does not have. */
export function rigFindings(show: Cursor): Finding[] {
  const outputs = items(field(show, 'rig', 'outputs'))
  const lamps = items(field(show, 'rig', 'lamps'))
  return [
    ...outputs.flatMap((output) => unsorted(field(output, 'timer', 'prescalers'))),
    ...outputs.flatMap((output) => layoutFindings(output, lamps)),
    ...lamps.flatMap((lamp) => [
      ...crossed(lamp, 'lowHz', 'highHz', (low, high) => low < high, 'more than'),
      ...crossed(lamp, 'minDuty', 'maxDuty', (low, high) => low <= high, 'at least'),
    ]),
    ...sharedSlots(lamps),
  ]
}

function unsorted(prescalers: Cursor): Finding[] {
  return items(prescalers).flatMap((item, index, all) => {
    const before = all[index - 1]
    const value = numberOf(item)
    const previous = before && numberOf(before)
    if (value === undefined || previous === undefined || previous < value) return []
    return [
      { path: item.path, found: `found ${value} after ${previous}`, expected: 'prescalers in rising order' },
    ]
  })
}

function crossed(
  lamp: Cursor,
  lowName: string,
  highName: string,
  fits: (low: number, high: number) => boolean,
  relation: string,
): Finding[] {
  const low = numberOf(field(lamp, lowName))
  const high = field(lamp, highName)
  const highest = numberOf(high)
  if (low === undefined || highest === undefined || fits(low, highest)) return []
  return [{ path: high.path, found: `found ${highest}`, expected: `${relation} ${lowName}, which is ${low}` }]
}

function sharedSlots(lamps: readonly Cursor[]): Finding[] {
  const first = new Map<string, Cursor>()
  return lamps.flatMap((lamp) => {
    const output = textOf(field(lamp, 'output'))
    const slot = field(lamp, 'slot')
    const number = numberOf(slot)
    if (output === undefined || number === undefined) return []
    const key = `${number} ${output}`
    const earlier = first.get(key)
    if (earlier === undefined) {
      first.set(key, slot)
      return []
    }
    const found = `slot ${number} of output ${quote(output)} is taken by ${pathText(earlier.path)}`
    return [{ path: slot.path, found, expected: 'a slot of its own' }]
  })
}
