/**
 * Text of a file whose encoding nobody states: UTF-8 where the bytes are valid UTF-8 (RFC 3629), else Latin-1, which
 * any bytes are. Written out because the pure part of the house has no TextDecoder.
 */
export function textOfBytes(bytes: Uint8Array): string {
  return decodeUtf8(bytes) ?? charactersOf(bytes)
}

function charactersOf(points: Iterable<number>): string {
  let text = ''
  for (const point of points) text += String.fromCodePoint(point)
  return text
}

function decodeUtf8(bytes: Uint8Array): string | undefined {
  const points: number[] = []
  for (let i = 0; i < bytes.length;) {
    const lead = bytes[i++] as number
    const more = lead < 0x80 ? 0 : lead >= 0xf0 ? 3 : lead >= 0xe0 ? 2 : lead >= 0xc2 ? 1 : -1
    if (more < 0 || lead > 0xf4) return undefined
    let point = more === 0 ? lead : lead & (0x3f >> more)
    for (let k = 0; k < more; k++) {
      const byte = bytes[i++]
      if (byte === undefined || (byte & 0xc0) !== 0x80) return undefined
      point = (point << 6) | (byte & 0x3f)
    }
    const tooLong = (more === 2 && point < 0x800) || (more === 3 && point < 0x10000)
    if (tooLong || point > 0x10ffff || (point >= 0xd800 && point < 0xe000)) return undefined
    points.push(point)
  }
  return charactersOf(points)
}

/** UTF-8 bytes of a text, RFC 3629; half a surrogate pair becomes U+FFFD. */
export function bytesOfText(text: string): number[] {
  const bytes: number[] = []
  for (const character of text) {
    let point = character.codePointAt(0) as number
    if (point >= 0xd800 && point < 0xe000) point = 0xfffd
    if (point < 0x80) bytes.push(point)
    else if (point < 0x800) bytes.push(0xc0 | (point >> 6), 0x80 | (point & 0x3f))
    else if (point < 0x10000) {
      bytes.push(0xe0 | (point >> 12), 0x80 | ((point >> 6) & 0x3f), 0x80 | (point & 0x3f))
    } else {
      bytes.push(0xf0 | (point >> 18), 0x80 | ((point >> 12) & 0x3f))
      bytes.push(0x80 | ((point >> 6) & 0x3f), 0x80 | (point & 0x3f))
    }
  }
  return bytes
}
