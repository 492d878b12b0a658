import { expect, test } from 'vitest'
import { Door } from '../../../../../app/engine/host/web/door.ts'
import { isSameSecret, RANDOM } from '../../../../../app/engine/host/web/secrets.ts'
import { countedSecrets } from '../../../../support/counted-secrets.ts'

function door(letsRemote = true): Door {
  return new Door({ letsRemote, secrets: countedSecrets() })
}

const WRONG = { code: '999999' }

/** Wrong codes until the door closes; answers for how long. */
function close(one: Door, now: number): number {
  for (let tries = 0; tries < 4; tries++) expect(one.enter(WRONG, false, now)).toMatchObject({ again: 0 })
  const last = one.enter(WRONG, false, now)
  if (last.ok) throw new Error('a wrong code came in')
  return last.again
}

test("this machine's key comes in from this machine, again and again, and from nowhere else", () => {
  const one = door()
  const own = { ok: true, entry: { place: 'browser', key: 'key-0' } }
  expect(one.enter({ key: 'key-0' }, true, 0)).toEqual(own)
  expect(one.enter({ key: 'key-0' }, true, 1)).toEqual(own)
  expect(one.enter({ key: 'key-0' }, false, 2)).toMatchObject({ ok: false, why: 'wrong key' })
})

test('a code lets one device in, which comes back with its own key, from this machine as well; only ever as a device', () => {
  const one = door()
  const { code } = one
  expect(one.enter({ code }, false, 0)).toEqual({ ok: true, entry: { place: 'remote', key: 'key-1' } })
  expect(one.code).not.toBe(code)
  expect(one.enter({ code }, false, 1)).toMatchObject({ ok: false, why: 'wrong code' })
  const again = { ok: true, entry: { place: 'remote', key: 'key-1' } }
  expect(one.enter({ key: 'key-1' }, false, 2)).toEqual(again)
  expect(one.enter({ key: 'key-1' }, true, 3)).toEqual(again)
  expect(one.enter({ code: one.code }, true, 4)).toMatchObject({ entry: { place: 'remote' } })
})

test('neither key nor code, an unknown key, a key with a right code beside it: no entry', () => {
  const one = door()
  expect(one.enter({}, true, 0)).toMatchObject({ ok: false, why: 'no key', again: 0 })
  expect(one.enter({ key: 'key-7' }, true, 0)).toMatchObject({ ok: false, why: 'wrong key' })
  expect(one.enter({ key: '' }, true, 0)).toMatchObject({ ok: false, why: 'wrong key' })
  expect(one.enter({ key: 'x', code: one.code }, true, 0)).toMatchObject({ ok: false, why: 'wrong key' })
})

test('without other devices there is no code, and none is heard', () => {
  const one = door(false)
  expect(one.code).toBe('')
  for (const code of ['', '000000']) {
    expect(one.enter({ code }, true, 0)).toMatchObject({ ok: false, why: 'no key' })
  }
})

test('five wrong codes in a row close it for 30 s, then twice as long each time, 10 minutes at most; a new code each time', () => {
  const one = door()
  const codes = new Set([one.code])
  let now = 0
  for (const seconds of [30, 60, 120, 240, 480, 600, 600]) {
    expect(close(one, now)).toBe(seconds * 1000)
    codes.add(one.code)
    expect(one.enter({ code: one.code }, false, now + seconds * 1000 - 1)).toEqual({
      ok: false,
      why: 'codes closed',
      message: 'Too many wrong codes; try again in 1 s, with the code that the host shows then.',
      again: 1,
    })
    now += seconds * 1000
  }
  expect(codes.size).toBe(8)
  expect(one.enter({ code: one.code }, false, now)).toMatchObject({ ok: true })
  // Whoever came in by a right code has shown that somebody at the host is there.
  expect(close(one, now)).toBe(30_000)
})

test('while it is closed to codes, keys are let in, and tries do not make it longer', () => {
  const one = door()
  const device = one.enter({ code: one.code }, false, 0)
  expect(device.ok).toBe(true)
  close(one, 0)
  expect(one.enter({ key: 'key-0' }, true, 1)).toMatchObject({ ok: true })
  expect(one.enter({ key: 'key-1' }, false, 1)).toMatchObject({ ok: true })
  for (let tries = 0; tries < 50; tries++)
    expect(one.enter(WRONG, false, 29_000)).toMatchObject({ again: 1_000 })
  expect(one.enter({ code: one.code }, false, 30_000)).toMatchObject({ ok: true })
})

test('a right code between wrong ones begins the count anew', () => {
  const one = door()
  for (let round = 0; round < 5; round++) {
    for (let tries = 0; tries < 4; tries++)
      expect(one.enter(WRONG, false, 0)).toMatchObject({ why: 'wrong code', again: 0 })
    expect(one.enter({ code: one.code }, false, 0)).toMatchObject({ ok: true })
  }
})

test('devices beyond the 64th make it forget the first', () => {
  const one = door()
  for (let device = 1; device <= 65; device++) one.enter({ code: one.code }, false, 0)
  expect(one.enter({ key: 'key-1' }, false, 0)).toMatchObject({ ok: false })
  expect(one.enter({ key: 'key-2' }, false, 0)).toMatchObject({ ok: true })
  expect(one.enter({ key: 'key-0' }, true, 0)).toMatchObject({ ok: true })
})

test('keys have 128 bits and go into an address as they are; codes have six digits of which each comes up', () => {
  const keys = Array.from({ length: 100 }, () => RANDOM.drawKey())
  expect(new Set(keys).size).toBe(100)
  for (const key of keys) {
    expect(key).toMatch(/^[\w-]{22}$/)
    expect(Buffer.from(key, 'base64url')).toHaveLength(16)
  }
  const codes = Array.from({ length: 1000 }, () => RANDOM.drawCode())
  for (const code of codes) expect(code).toMatch(/^\d{6}$/)
  expect(new Set(codes.map(([first]) => first)).size).toBe(10)
  expect(new Set(codes).size).toBeGreaterThan(990)
})

test('secrets are the same only if all of them is', () => {
  expect(isSameSecret('123456', '123456')).toBe(true)
  for (const other of ['', '12345', '1234567', '123457', '023456', '１２３４５６', '12345\u00b6']) {
    expect(isSameSecret('123456', other)).toBe(false)
  }
})
