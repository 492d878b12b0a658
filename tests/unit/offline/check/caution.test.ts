import { expect, test } from 'vitest'
import { checkShow } from '../../../../src/offline/check-show.ts'
import { formatFindings } from '../../../../src/offline/check/format-findings.ts'
import { quietHouse } from '../../../support/checked-show.ts'
import { validShow } from '../../../support/valid-show.ts'
import { richShow } from '../../../support/rich-show.ts'

test('a show that nothing is counted against still gets the caution, and only that', () => {
  const findings = checkShow(validShow(quietHouse()))
  expect(findings).toHaveLength(1)
  expect(findings[0]).toMatchObject({ gravity: 'note', where: 'every show' })
  expect(findings[0]?.message).toContain('photosensitive seizures')
  expect(findings[0]?.message).toContain('Local codes and licensed practice decide')
})

test('the caution is the last of all, and nothing is a verdict', () => {
  const findings = checkShow(validShow(richShow()))
  expect(findings.at(-1)?.where).toBe('every show')
  expect(formatFindings(findings)).not.toMatch(/\b(safe|low risk|harmless)\b/i)
})
