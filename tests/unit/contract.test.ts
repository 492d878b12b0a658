import { expect, test } from 'vitest'
import { fromEngine } from '../../src/contract/from-engine.ts'
import { readMessage } from '../../src/contract/read-message.ts'
import { toEngine } from '../../src/contract/to-engine.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'

const v = CONTRACT_VERSION

test('a message of the contract is read, its defaults filled in', () => {
  expect(readMessage(toEngine, { v, type: 'load', text: '{}', rig: 'virtual' })).toEqual({
    ok: true,
    message: { v, type: 'load', text: '{}', rig: 'virtual', recover: false },
  })
  expect(readMessage(fromEngine, { v, type: 'song', song: 'tide', position: null })).toMatchObject({
    ok: true,
  })
})

test.each([
  [
    'another version',
    { v: v + 1, type: 'ping', count: 1 },
    `a message of version ${v + 1}; this one speaks ${v}`,
  ],
  ['no version', { type: 'ping', count: 1 }, `a message of version undefined; this one speaks ${v}`],
  [
    'a version that cannot be told',
    { v: { toString: null, valueOf: null } },
    `a message of version unknown; this one speaks ${v}`,
  ],
  ['no message at all', 'dark-all', `a message of version undefined; this one speaks ${v}`],
  ['nothing', null, `a message of version undefined; this one speaks ${v}`],
])('%s is told, not thrown', (_, raw, why) => {
  expect(readMessage(toEngine, raw)).toEqual({ ok: false, why })
})

test.each([
  ['an unknown type', { v, type: 'explode' }, /^type: /],
  ['a missing field', { v, type: 'song' }, /^song: /],
  ['a field of the wrong type', { v, type: 'choose-port', port: 'keys', place: 'two' }, /^place: /],
  ['a place before the first', { v, type: 'choose-port', port: 'keys', place: -1 }, /^place: /],
  ['a field too many', { v, type: 'dark-all', also: 1 }, /also/],
  ['another rig', { v, type: 'load', text: '', rig: 'imaginary' }, /^rig: /],
])('%s is told by where it is', (_, raw, why) => {
  const read = readMessage(toEngine, raw)
  expect(read.ok ? '' : read.why).toMatch(why)
})
