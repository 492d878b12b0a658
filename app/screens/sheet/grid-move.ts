/** A place in a grid: row from 0, column from 0; column -1 is the row's head. */
export interface GridPlace {
  readonly row: number
  readonly column: number
}

/** Where an arrow, Home or End goes from a place in a grid; undefined: it is no such key. Edges hold. */
export function gridMove(
  { key, ctrlKey }: { readonly key: string; readonly ctrlKey: boolean },
  { row, column }: GridPlace,
  rows: number,
  columns: number,
): GridPlace | undefined {
  switch (key) {
    case 'ArrowLeft':
      return { row, column: Math.max(-1, column - 1) }
    case 'ArrowRight':
      return { row, column: Math.min(columns - 1, column + 1) }
    case 'ArrowUp':
      return { row: Math.max(0, row - 1), column }
    case 'ArrowDown':
      return { row: Math.min(rows - 1, row + 1), column }
    case 'Home':
      return { row: ctrlKey ? 0 : row, column: -1 }
    case 'End':
      return { row: ctrlKey ? rows - 1 : row, column: columns - 1 }
    default:
      return undefined
  }
}

/** Alt with an arrow moves a lamp in its part's order: left and up earlier, right and down later; 0: another key. */
export function orderMove({ key, altKey }: { readonly key: string; readonly altKey: boolean }): -1 | 0 | 1 {
  if (!altKey) return 0
  if (key === 'ArrowLeft' || key === 'ArrowUp') return -1
  return key === 'ArrowRight' || key === 'ArrowDown' ? 1 : 0
}
