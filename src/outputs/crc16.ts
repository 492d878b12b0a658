/** The remainder of each byte value, shifted up by eight. */
const TABLE = Uint16Array.from({ length: 256 }, (_, byte) => {
  let crc = byte << 8
  for (let bit = 0; bit < 8; bit++) crc = ((crc & 0x8000) === 0 ? crc << 1 : (crc << 1) ^ 0x1021) & 0xffff
  return crc
})

/**
 * CRC-16/CCITT-FALSE (also listed as CRC-16/IBM-3740): polynomial 1021h, start FFFFh, neither input nor output reflected,
 * nothing added at the end. "123456789" gives 29B1h, nothing gives FFFFh.
 */
export function crc16(data: Uint8Array): number {
  let crc = 0xffff
  for (let at = 0; at < data.length; at++)
    crc = ((crc << 8) & 0xffff) ^ (TABLE[(crc >> 8) ^ (data[at] as number)] as number)
  return crc
}
