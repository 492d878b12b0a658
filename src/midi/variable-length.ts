/** The largest variable-length quantity, four bytes. Standard MIDI Files 1.0, "Conventions". */
export const MAX_QUANTITY = 0x0fffffff

/** Most bytes read for one quantity; the standard allows four, some writers put zeros before. */
const MOST_BYTES = 8

export interface Quantity {
  /** -1: more than `MAX_QUANTITY`, or no end in sight. */
  readonly value: number
  /** Where the next byte is. */
  readonly next: number
  /** The bytes ran out at `end`. */
  readonly cut: boolean
}

/** Reads a variable-length quantity of `bytes` from `at` on, not past `end`. */
export function readQuantity(bytes: Uint8Array, at: number, end: number): Quantity {
  let value = 0
  for (let next = at; next < end && next < at + MOST_BYTES;) {
    const byte = bytes[next++] as number
    value = value * 128 + (byte & 0x7f)
    if (byte < 0x80) return { value: value > MAX_QUANTITY ? -1 : value, next, cut: false }
  }
  const cut = end - at < MOST_BYTES
  return { value: -1, next: cut ? end : at + MOST_BYTES, cut }
}

/** The bytes of a quantity, 0..`MAX_QUANTITY`; a RangeError otherwise. */
export function quantityBytes(value: number): number[] {
  if (!Number.isInteger(value) || value < 0 || value > MAX_QUANTITY) {
    throw new RangeError(
      `a variable-length quantity must be a whole number from 0 to ${MAX_QUANTITY}, but is ${value}`,
    )
  }
  const bytes = [value & 0x7f]
  for (let rest = value >> 7; rest > 0; rest >>= 7) bytes.unshift((rest & 0x7f) | 0x80)
  return bytes
}
