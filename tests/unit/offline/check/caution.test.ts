import { expect, test } from 'vitest'
import { checkShow } from '../../../../src/offline/check-show.ts'
import { formatFindings } from '../../../../src/offline/check/format-findings.ts'
import { FARTHEST, quietHouse } from '../../../support/checked-show.ts'
import { validShow } from '../../../support/valid-show.ts'
import { richShow } from '../../../support/rich-show.ts'

test('a show that nothing is counted against still gets the caution, and besides only how far off it is at most', () => {
  const [farthest, caution, ...more] = checkShow(validShow(quietHouse()))
  expect(more).toEqual([])
  expect(farthest).toMatchObject({ gravity: 'note', message: expect.stringMatching(FARTHEST) })
  expect(caution).toMatchObject({ gravity: 'note', where: 'every show' })
  expect(caution?.message).toContain('photosensitive seizures')
  expect(caution?.message).toContain('Local codes and licensed practice decide')
})

test('the caution is the last of all, and nothing is a verdict', () => {
  const findings = checkShow(validShow(richShow()))
  expect(findings.at(-1)?.where).toBe('every show')
  expect(formatFindings(findings)).not.toMatch(/\b(safe|low risk|harmless)\b/i)
})
