/** How often a way over lamps switches them, in one round of it. */
export interface Gating {
  /** The most that one lamp comes on anew. */
  readonly lamp: number
  /** Moves after which some lamp goes dark. */
  readonly field: number
}

/**
 * Goes through one round of `round` (lamp places, repeated for ever) with `width` different lamps lit at once. A lamp left
 * goes on for `overlap` moves' time (a fraction is fine); left and found again within that time, it never went dark.
 */
export function travelGating(round: readonly number[], width: number, overlap: number): Gating {
  const covers = round.map((_, position) => cover(round, position, width))
  const dark = new Set<number>()
  const rises = new Map<number, number>()
  covers.forEach((lit, position) => {
    const next = covers[(position + 1) % round.length] ?? lit
    for (const lamp of lit) {
      if (next.has(lamp)) continue
      if (movesAway(covers, position, lamp) <= overlap) continue
      dark.add(position)
      rises.set(lamp, (rises.get(lamp) ?? 0) + 1)
    }
  })
  return { lamp: Math.max(0, ...rises.values()), field: dark.size }
}

function cover(round: readonly number[], position: number, width: number): Set<number> {
  const lit = new Set<number>()
  for (let step = 0; step < round.length && lit.size < width; step++) {
    lit.add(round[(position + step) % round.length] as number)
  }
  return lit
}

/** Moves for which a lamp left after `position` is not covered. It is again, at the latest a round later. */
function movesAway(covers: readonly ReadonlySet<number>[], position: number, lamp: number): number {
  for (let away = 1; away < covers.length; away++) {
    if (covers[(position + 1 + away) % covers.length]?.has(lamp)) return away
  }
  return covers.length
}
