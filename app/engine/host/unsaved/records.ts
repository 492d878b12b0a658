import { crc32 } from 'node:zlib'

/** Length of what follows, then its CRC-32, both 32 bits little-endian. */
const HEAD_BYTES = 8

/** A record of a journal: its head, then the value as JSON in UTF-8. */
export function recordBytes(value: unknown): Buffer {
  const body = Buffer.from(JSON.stringify(value))
  const head = Buffer.alloc(HEAD_BYTES)
  head.writeUInt32LE(body.length, 0)
  head.writeUInt32LE(crc32(body), 4)
  return Buffer.concat([head, body])
}

/** The values of all whole records up to the first that is not: a process or a power supply ended while it was written, or the disk is at fault. */
export function readRecords(bytes: Buffer): unknown[] {
  const values: unknown[] = []
  let at = 0
  while (at + HEAD_BYTES <= bytes.length) {
    const length = bytes.readUInt32LE(at)
    const body = bytes.subarray(at + HEAD_BYTES, at + HEAD_BYTES + length)
    // Zero bytes, which a disk may leave where it had no time to write, are no record: an empty one has the right sum.
    if (length === 0 || body.length < length || crc32(body) !== bytes.readUInt32LE(at + 4)) break
    try {
      values.push(JSON.parse(body.toString('utf8')))
    } catch {
      break
    }
    at += HEAD_BYTES + length
  }
  return values
}
