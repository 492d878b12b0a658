/** How many bytes, and what to write into them. */
export type Field = readonly [bytes: 1 | 2 | 4, value: number]

/** Unsigned integers one after another, low byte first. Throws RangeError for what does not fit: nothing is cut off. */
export function packLittleEndian(fields: readonly Field[]): Uint8Array {
  const out: number[] = []
  for (const [bytes, value] of fields) {
    if (!Number.isInteger(value) || value < 0 || value >= 256 ** bytes) {
      throw new RangeError(
        `A serial frame has ${bytes} byte(s) for a whole number from 0; ${value} does not fit`,
      )
    }
    for (let at = 0; at < bytes; at++) out.push(Math.floor(value / 256 ** at) % 256)
  }
  return Uint8Array.from(out)
}

/** The unsigned integer in `bytes` bytes from `at`, low byte first. The caller has checked the length. */
export function readLittleEndian(data: Uint8Array, at: number, bytes: 1 | 2 | 4): number {
  let value = 0
  for (let place = bytes - 1; place >= 0; place--) value = value * 256 + (data[at + place] ?? 0)
  return value
}
