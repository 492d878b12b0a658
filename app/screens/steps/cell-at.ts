import type { Pattern } from '../../../src/domain/pattern.ts'
import type { GridPlace } from '../sheet/grid-move.ts'

/** After a row's steps come the two that make it shorter and longer. */
export const ENDS = 2

/** Where an arrow, Home or End goes in rows of different lengths; column -1 is the row's head. Undefined: it is no such key. Edges hold. */
export function stepMove(
  { key, ctrlKey }: { readonly key: string; readonly ctrlKey: boolean },
  at: GridPlace,
  { rows }: Pick<Pattern, 'rows'>,
): GridPlace | undefined {
  const within = (row: number, column: number): GridPlace => {
    const to = Math.max(0, Math.min(rows.length - 1, row))
    return { row: to, column: Math.max(-1, Math.min(column, lastColumn(rows[to]))) }
  }
  /** Up and down stay among the steps where they came from steps. */
  const beside = (by: number): GridPlace => {
    const to = within(at.row + by, at.column)
    const steps = rows[to.row]?.steps.length ?? 0
    const isStep = at.column < (rows[at.row]?.steps.length ?? 0)
    return isStep ? { ...to, column: Math.min(to.column, steps - 1) } : to
  }
  switch (key) {
    case 'ArrowLeft':
      return within(at.row, at.column - 1)
    case 'ArrowRight':
      return within(at.row, at.column + 1)
    case 'ArrowUp':
      return beside(-1)
    case 'ArrowDown':
      return beside(1)
    case 'Home':
      return within(ctrlKey ? 0 : at.row, -1)
    case 'End':
      return within(ctrlKey ? rows.length - 1 : at.row, Infinity)
    default:
      return undefined
  }
}

function lastColumn(row: Pattern['rows'][number] | undefined): number {
  return (row?.steps.length ?? 0) - 1 + ENDS
}
