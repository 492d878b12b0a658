import { readFileSync, writeFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { encodePayload } from '../../../src/outputs/encode-payload.ts'
import { decodeFrame } from '../../../src/outputs/frame-wire.ts'
import { firmwareVectors } from '../../support/firmware-vectors.ts'
import { fromHex, toHex } from '../../support/hex.ts'

const FILE = new URL('../../../assets/firmware/vectors.json', import.meta.url)
type Vectors = ReturnType<typeof firmwareVectors>

// The program and the lamp box's own tests read this file. UPDATE=1 writes it anew (then run prettier on it).
if (process.env.UPDATE === '1') writeFileSync(FILE, `${JSON.stringify(firmwareVectors(), null, 2)}\n`)
const committed: Vectors = JSON.parse(readFileSync(FILE, 'utf8'))

test('the committed vectors are what the program does', () => {
  expect(committed).toEqual(JSON.parse(JSON.stringify(firmwareVectors())))
})

test('every frame in them decodes to itself', () => {
  for (const { frame, payload, wire } of committed.frames) {
    expect(decodeFrame(fromHex(wire).subarray(0, -1))).toEqual(frame)
    expect(toHex(encodePayload(frame))).toBe(payload)
    expect(fromHex(wire).indexOf(0)).toBe(wire.length / 2 - 1)
  }
})

test('every damaged block is refused, for each reason at least once', () => {
  const reasons = committed.damaged.map(({ block }) => decodeFrame(fromHex(block)))
  expect(reasons.every((reason) => typeof reason === 'string')).toBe(true)
  expect(new Set(reasons)).toEqual(new Set(['cobs', 'crc', 'payload']))
})

test('timers: 64-bit integer arithmetic, as the box has it, gives the same', () => {
  const { clockHz, prescalers, bits } = committed.timer
  for (const { rate, prescaler, top } of committed.timers) {
    const periods = prescalers.map((by) => {
      const divisor = BigInt(by) * BigInt(rate)
      return (2n * BigInt(clockHz) * 65536n + divisor) / (2n * divisor)
    })
    const place = periods.findIndex((period) => period <= 2n ** BigInt(bits))
    const period = periods[place] ?? 0n
    expect([rate, prescaler, top]).toEqual(
      period < 2n ? [rate, null, null] : [rate, prescalers[place], Number(period) - 1],
    )
  }
})

test('duties: 64-bit integer arithmetic gives the same', () => {
  for (const { duty, top, ticks } of committed.duties) {
    const exact = Number((2n * BigInt(duty) * BigInt(top + 1) + 65535n) / 131070n)
    expect(ticks).toBe(Math.max(1, exact))
    expect(ticks).toBeLessThanOrEqual(top + 1)
  }
})
