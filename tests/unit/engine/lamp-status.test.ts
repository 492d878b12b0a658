import { describe, expect, test } from 'vitest'
import { lampStatus } from '../../../app/engine/lamp-status.ts'
import { lampWords, settingWords } from '../../../app/engine/lamp-words.ts'
import { fromEngine } from '../../../src/contract/from-engine.ts'
import { CONTRACT_VERSION } from '../../../src/contract/version.ts'
import type { Lit } from '../../../src/domain/lamp-state.ts'

const LIT: Lit = {
  on: true,
  part: 'lead',
  player: 'keys',
  note: 7,
  key: 64,
  velocity: 80,
  hz: 329.628,
  realHz: 329.625,
  cents: -0.0158,
  duty: 0.3,
  drive: { kind: 'timer', rate: 21_602_304, prescaler: 1, top: 48_539 },
  strike: true,
}
/** As the flash guard keeps a lamp lit once its note has ended. */
const GLOWING: Lit = { ...LIT, note: 0, hz: 25_000, realHz: 25_000, cents: 0, strike: false, glow: true }

describe('a lamp that glows', () => {
  test('is told as lit for its part, with no note', () => {
    const status = lampStatus('fern', GLOWING, 'lead')
    expect(status).toEqual({
      lamp: 'fern',
      on: true,
      part: 'lead',
      player: 'keys',
      hz: 25_000,
      realHz: 25_000,
      duty: 0.3,
      glow: true,
      claimedBy: 'lead',
    })
    const word = { v: CONTRACT_VERSION, type: 'lamps', at: 1, lamps: [status] }
    expect(fromEngine.parse(word)).toEqual(word)
    expect(lampStatus('fern', LIT)).not.toHaveProperty('glow')
  })

  test('is told in words as what it is', () => {
    expect(lampWords(GLOWING)).toBe('glows: kept lit, no note, 25000.000 Hz, duty 0.30')
    expect(lampWords(LIT)).toMatch(/^on, part lead, E4, 329\.625 Hz/)
    expect(settingWords('Fern', GLOWING)).toBe('Fern glows, 25000.0 Hz duty 0.30')
    expect(settingWords('Fern', LIT)).toBe('Fern 329.6 Hz duty 0.30')
  })
})
