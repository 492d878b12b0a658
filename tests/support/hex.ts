/** "01 ff" or "01ff" -> bytes. */
export function fromHex(hex: string): Uint8Array {
  const digits = hex.replaceAll(/\s/g, '')
  return Uint8Array.from({ length: digits.length / 2 }, (_, at) =>
    Number.parseInt(digits.slice(2 * at, 2 * at + 2), 16),
  )
}

export function toHex(bytes: Iterable<number>): string {
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('')
}
