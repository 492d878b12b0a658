/** Writes unsigned integers one after another, low byte first, into a buffer of a length known before. */
export class LittleEndianWriter {
  readonly bytes: Uint8Array
  #end = 0

  constructor(length: number) {
    this.bytes = new Uint8Array(length)
  }

  /** Throws RangeError for what does not fit: nothing is cut off. */
  write(bytes: 1 | 2 | 4, value: number): void {
    if (!Number.isInteger(value) || value < 0 || value >= 2 ** (8 * bytes)) {
      throw new RangeError(
        `A serial frame has ${bytes} byte(s) for a whole number from 0; ${value} does not fit`,
      )
    }
    for (let shift = 0; shift < 8 * bytes; shift += 8) this.bytes[this.#end++] = value >>> shift
  }
}

/** The unsigned integer in `bytes` bytes from `at`, low byte first. The caller has checked the length. */
export function readLittleEndian(data: Uint8Array, at: number, bytes: 1 | 2 | 4): number {
  let value = 0
  for (let place = bytes - 1; place >= 0; place--) value = value * 256 + (data[at + place] ?? 0)
  return value
}
