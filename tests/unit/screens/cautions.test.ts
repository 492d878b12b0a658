import { expect, test } from 'vitest'
import { CAUTIONS } from '../../../src/domain/cautions.ts'

// What can hurt people here (common practice, no source; photosensitivity: WCAG 2.2, 2.3).
test.each([
  ['photosensitivity', /photosensitive seizures/],
  ['wiring', /Mains wiring.*somebody licensed/],
  ['fusing', /a fuse that fits/i],
  ['heat', /get hot, can burn and can start a fire/],
  ['eyes', /hurt eyes/],
  ['hearing', /protect your hearing/],
  ['local codes', /Local codes/],
  ['that this is no safety device', /not a safety device/],
])('the cautions name %s', (_, words) => {
  expect(CAUTIONS.join(' ')).toMatch(words)
})

test('no caution says that anything is safe', () => {
  expect(CAUTIONS.join(' ')).not.toMatch(/\bsafe\b|\bsafely\b|low risk|harmless/i)
})
