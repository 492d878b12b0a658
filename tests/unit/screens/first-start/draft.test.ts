import { expect, test } from 'vitest'
import type { Draft } from '../../../../app/screens/first-start/draft.ts'
import { answersOf, draftFaults, EMPTY_DRAFT, newPlayer } from '../../../../app/screens/first-start/draft.ts'
import { toHost } from '../../../../src/contract/to-host.ts'
import { CONTRACT_VERSION } from '../../../../src/contract/version.ts'

const serial: Draft = { ...EMPTY_DRAFT, wiring: 'serial', serialPort: '/dev/ttyUSB0' }
const midi: Draft = { ...EMPTY_DRAFT, wiring: 'midi', midiPort: 'Lamp box' }

test.each([
  ['serial', serial, { kind: 'serial', port: '/dev/ttyUSB0' }],
  ['midi', midi, { kind: 'midi', port: 'Lamp box', layout: 'channel-per-lamp' }],
  ['virtual', { ...serial, wiring: 'virtual' as const }, { kind: 'virtual' }],
])('whole answers of %s are such as a host reads', (_, draft, wiring) => {
  const answers = answersOf({ ...draft, players: [newPlayer('keys'), newPlayer('strings')] })
  expect(answers?.wiring).toEqual(wiring)
  const read = toHost.safeParse({ v: CONTRACT_VERSION, type: 'new-show', answers })
  expect(read.error?.issues ?? []).toEqual([])
})

test.each<[string, Draft, string[]]>([
  ['nothing chosen', EMPTY_DRAFT, ['wiring']],
  ['nobody plays', { ...serial, players: [] }, ['players']],
  ['no serial port', { ...serial, serialPort: '' }, ['serialPort']],
  ['no MIDI port', { ...midi, midiPort: '' }, ['midiPort']],
  ['seventeen lamps on sixteen channels', { ...midi, lamps: 17 }, ['layout']],
  ['sixteen lamps in a zone of fifteen', { ...midi, lamps: 16, layout: 'mpe' }, ['layout']],
  ['sixty-four lamps, a key each', { ...midi, lamps: 64, layout: 'note-per-lamp' }, []],
  ['no port, but no lamps either', { ...EMPTY_DRAFT, wiring: 'virtual' }, []],
])('%s', (_, draft, fields) => {
  expect(draftFaults(draft).map(({ field }) => field)).toEqual(fields)
  expect(answersOf(draft) === undefined).toBe(fields.length > 0)
})
