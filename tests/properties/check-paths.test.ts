import fc from 'fast-check'
import { expect, test } from 'vitest'
import { checkShow } from '../../src/offline/check-show.ts'
import { valueAt } from '../../src/show/json-path.ts'
import { arbitraryShow } from '../support/arbitrary-show.ts'
import { checkProperty } from '../support/property.ts'

test('every finding but the caution leads to a place in the show', () => {
  const roots = new Set<string>()
  checkProperty(
    'paths of findings',
    fc.property(arbitraryShow(), (show) => {
      const findings = checkShow(show)
      expect(findings.filter(({ path }) => path === undefined).map(({ where }) => where)).toEqual([
        'every show',
      ])
      for (const { path, where } of findings) {
        if (!path) continue
        roots.add(`${path[0]} ${path.length}`)
        expect(valueAt(show, path), `${where}: ${JSON.stringify(path)}`).toBeDefined()
        const [root, song, list, part] = path
        if (root !== 'songs') continue
        // In words it is the same song and part.
        const named = show.songs[song as number]
        const words = list === 'parts' ? named?.parts[part as number]?.id : ''
        expect(where).toContain(`song ${named?.id}`)
        expect(where).toContain(words)
      }
    }),
  )
  // Places of several kinds were met, or this would prove little.
  expect([...roots]).toEqual(expect.arrayContaining(['songs 4', 'songs 2', 'rig 3']))
})
