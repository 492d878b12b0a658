import type { PropertyValues } from 'lit'
import type { HouseView } from './house-view.ts'

/**
 * Whether all that changed in an element is its `view`, and there nothing that it shows: then it need not draw itself again. Lamps come thirty times a
 * second, and most rooms show none of them.
 */
export function isElsewhere(
  changed: PropertyValues,
  view: HouseView,
  shown: readonly (keyof HouseView)[],
): boolean {
  const before = changed.get('view') as HouseView | undefined
  if (before === undefined || changed.size !== 1) return false
  return shown.every((slice) => before[slice] === view[slice])
}
