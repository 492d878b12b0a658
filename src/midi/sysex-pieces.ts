/**
 * The data of a system exclusive still arriving, in pieces. Each piece is longer than the next (like the digits of a
 * binary counter), so adding n bytes one at a time costs n log n copies, never n^2, though nothing is changed in place.
 */
export interface SysexPieces {
  readonly length: number
  readonly pieces: readonly (readonly number[])[]
}

export const NO_PIECES: SysexPieces = { length: 0, pieces: [] }

export function addPiece(to: SysexPieces, fresh: readonly number[]): SysexPieces {
  if (fresh.length === 0) return to
  const pieces = to.pieces.slice()
  let last = fresh
  let before = pieces.at(-1)
  while (before !== undefined && before.length <= last.length) {
    last = before.concat(last)
    pieces.pop()
    before = pieces.at(-1)
  }
  pieces.push(last)
  return { length: to.length + fresh.length, pieces }
}

export function joinPieces(pieces: SysexPieces, rest: readonly number[]): readonly number[] {
  return pieces.length === 0 ? rest : pieces.pieces.flat().concat(rest)
}
