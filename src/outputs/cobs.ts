const LONGEST_RUN = 254

/**
 * Consistent Overhead Byte Stuffing (Cheshire and Baker, IEEE/ACM Transactions on Networking 7(2), 1999): the same bytes
 * without a 00, one byte longer for every 254 begun. The delimiting 00 is not added.
 */
export function cobsEncode(data: Uint8Array): Uint8Array {
  const out = new Uint8Array(data.length + Math.floor(data.length / LONGEST_RUN) + 1)
  let codeAt = 0
  let end = 1
  const closeRun = () => {
    out[codeAt] = end - codeAt
    codeAt = end++
  }
  for (const byte of data) {
    // A full run is closed only when more follows, so that no 01 trails a run that fills its block exactly.
    if (end - codeAt > LONGEST_RUN) closeRun()
    if (byte === 0) closeRun()
    else out[end++] = byte
  }
  out[codeAt] = end - codeAt
  return out.slice(0, end)
}

/**
 * The inverse, for what stands between two 00; undefined where it is no COBS block: empty, with a 00 inside, or cut short.
 * The final 01 that some encoders write after a full run of 254 is taken.
 */
export function cobsDecode(block: Uint8Array): Uint8Array | undefined {
  if (block.length === 0 || block.includes(0)) return undefined
  const out = new Uint8Array(block.length)
  let end = 0
  for (let at = 0; at < block.length;) {
    const code = block[at] ?? 0
    const next = at + code
    if (next > block.length) return undefined
    out.set(block.subarray(at + 1, next), end)
    end += code - 1
    if (code <= LONGEST_RUN && next < block.length) out[end++] = 0
    at = next
  }
  return out.slice(0, end)
}
