const LETTERS: Readonly<Record<string, number>> = { c: 0, d: 2, e: 4, f: 5, g: 7, a: 9, b: 11 }

/** The key that a name or a number says, 0 to 127: `C4`, `f#3`, `Bb-1`, `60`, `C4 (60)`; undefined where it says none. */
export function keyOf(text: string): number | undefined {
  const said = text.replace(/\(.*\)\s*$/, '').trim()
  if (/^\d{1,3}$/.test(said)) return inRange(Number(said))
  const found = /^([a-g])([#♯b♭]?)([-−]?\d{1,2})$/i.exec(said)
  if (!found) return undefined
  const step = LETTERS[(found[1] ?? '').toLowerCase()] ?? 0
  const sign = found[2] ?? ''
  const shift = sign === '#' || sign === '♯' ? 1 : sign === '' ? 0 : -1
  return inRange(12 * (Number(found[3]?.replace('−', '-')) + 1) + step + shift)
}

function inRange(key: number): number | undefined {
  return key >= 0 && key <= 127 ? key : undefined
}
