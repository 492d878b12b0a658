import { describe, expect, it } from 'vitest'
import type { HouseView, Word } from '../../../app/screens/controllers/house-view.ts'
import { NOTHING_YET } from '../../../app/screens/controllers/house-view.ts'
import { gravest, unread } from '../../../app/screens/wording/gravest.ts'
import { isPortFine, portTroubles } from '../../../app/screens/wording/port-words.ts'
import type { PortStatus } from '../../../src/contract/from-engine.ts'
import { fromHost } from '../../../src/contract/from-host.ts'
import { CONTRACT_VERSION } from '../../../src/contract/version.ts'
import { houseWords } from '../../support/house-words.ts'

function words(...levels: Word['level'][]): Word[] {
  return levels.map((level, index) => ({ count: index + 1, level, source: 'engine', message: level }))
}

describe('the strip of words', () => {
  it('shows the gravest, of equally grave ones the latest', () => {
    expect(gravest(words('info', 'fault', 'warning', 'fault', 'info'))?.count).toBe(4)
    expect(gravest(words('info', 'info'))?.count).toBe(2)
    expect(gravest([])).toBeUndefined()
  })

  it('leaves out what was read', () => {
    const view: HouseView = { ...NOTHING_YET, words: words('fault', 'info', 'warning') }
    expect(gravest(unread(view, 1))?.level).toBe('warning')
    expect(unread(view, 3)).toEqual([])
  })
})

describe('ports that are not fine', () => {
  const port = (id: string, kind: PortStatus['kind'], state: PortStatus['state']): [string, PortStatus] => [
    id,
    { id, kind, name: id, state, message: '' },
  ]

  it('a MIDI port is fine open, a serial one only when its box answers', () => {
    expect(isPortFine(port('keys', 'midi-in', 'open')[1])).toBe(true)
    expect(isPortFine(port('wire', 'serial', 'open')[1])).toBe(false)
    expect(isPortFine(port('wire', 'serial', 'ready')[1])).toBe(true)
    const states = ['missing', 'lost', 'busy', 'ambiguous', 'unavailable', 'cut'] as const
    expect(states.filter((state) => isPortFine(port('keys', 'midi-in', state)[1]))).toEqual([])
  })

  it('are the show’s, players first; ports of another show do not count', () => {
    const [, show] = houseWords()
    const read = fromHost.parse({ v: CONTRACT_VERSION, ...show })
    if (read.type !== 'show') throw new Error('the second word is the show')
    const ports = new Map([
      port('wire', 'serial', 'lost'),
      port('keys', 'midi-in', 'missing'),
      port('pads', 'midi-in', 'open'),
      port('theremin', 'midi-in', 'missing'),
    ])
    expect(portTroubles({ ...NOTHING_YET, show: read, ports }).map(({ id }) => id)).toEqual(['keys', 'wire'])
    expect(portTroubles({ ...NOTHING_YET, ports })).toEqual([])
  })
})
