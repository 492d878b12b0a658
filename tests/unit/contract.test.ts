import { expect, test } from 'vitest'
import { fromEngine } from '../../src/contract/from-engine.ts'
import { fromHost } from '../../src/contract/from-host.ts'
import { readMessage } from '../../src/contract/read-message.ts'
import { toEngine } from '../../src/contract/to-engine.ts'
import { toHost } from '../../src/contract/to-host.ts'
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

test.each([
  ['a count of takes is asked for', { type: 'ask-take-checks' }, true],
  ['the page for the venue, of today', { type: 'ask-venue' }, true],
  ['the same of a day', { type: 'ask-venue', date: '2031-02-28' }, true],
  ['of a day that there is not', { type: 'ask-venue', date: '2031-02-30' }, false],
  ['of something else', { type: 'ask-venue', date: '<b>' }, false],
  ['with more than is asked', { type: 'ask-take-checks', take: '/etc/passwd' }, false],
])('%s', (_, message, isRead) => {
  expect(readMessage(toHost, { v, ...message }).ok).toBe(isRead)
})

test('how far a count is, and a whole one; a take that could not be counted has no figures', () => {
  const word = { v, type: 'take-checks', revision: 1, counting: { done: 1, of: 2 }, songs: [], notices: null }
  expect(readMessage(fromHost, word)).toMatchObject({ ok: true })
  const songs = [{ song: 'dew', takes: [{ take: 'a.mid', figures: null }], findings: [] }]
  const whole = { ...word, counting: null, songs, notices: { audience: 'a', venue: 'b' } }
  expect(readMessage(fromHost, whole)).toMatchObject({ ok: true })
  const without = { ...whole, songs: [{ song: 'dew', takes: [{ take: 'a.mid' }], findings: [] }] }
  expect(readMessage(fromHost, without).ok).toBe(false)
  expect(readMessage(fromHost, { ...word, counting: { done: 0.5, of: 2 } }).ok).toBe(false)
})
