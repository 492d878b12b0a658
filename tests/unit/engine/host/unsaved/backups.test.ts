import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { Backups } from '../../../../../app/engine/host/unsaved/backups.ts'
import { scratchFolder } from '../../../../support/scratch.ts'

function setUp() {
  const state = scratchFolder()
  const backups = new Backups(state)
  const texts = async (file: string) =>
    (await backups.of(file)).map(({ kind, path }) => [kind, readFileSync(path, 'utf8')])
  return { state, backups, texts, names: () => readdirSync(join(state, 'backups')) }
}

test('of each show what was last good is kept, and what was good before that', async () => {
  const { backups, texts } = setUp()
  await backups.keep('/shows/tide.json', Buffer.from('one'))
  await backups.keep('/shows/tide.json', Buffer.from('one'))
  expect(await texts('/shows/tide.json')).toEqual([['latest', 'one']])
  for (const text of ['two', 'three']) await backups.keep('/shows/tide.json', Buffer.from(text))
  await backups.keep('/other/tide.json', Buffer.from('other'))
  expect(await texts('/shows/tide.json')).toEqual([
    ['latest', 'three'],
    ['before', 'two'],
  ])
  expect(await texts('/other/tide.json')).toEqual([['latest', 'other']])
  expect(await texts('/shows/none.json')).toEqual([])
})

test('what was written over is kept byte by byte, whatever it is', async () => {
  const { backups } = setUp()
  const bytes = Buffer.of(0xff, 0, 0xfe, 0x7b)
  await backups.setAside('/shows/tide.json', bytes)
  const [aside] = await backups.aside()
  expect(aside).toMatchObject({ file: '/shows/tide.json', kind: 'aside' })
  expect(readFileSync(aside?.path ?? '').equals(bytes)).toBe(true)
})

test('they do not grow without end', async () => {
  const { backups, names } = setUp()
  for (let count = 0; count < 25; count++) await backups.setAside('/shows/tide.json', Buffer.from(`${count}`))
  expect(await backups.aside()).toHaveLength(20)
  for (let count = 0; count < 105; count++) await backups.keep(`/shows/${count}.json`, Buffer.from('x'))
  expect(names().filter((name) => name.endsWith('latest.json'))).toHaveLength(100)
})

test('what is not ours in the folder is passed over', async () => {
  const { backups, state } = setUp()
  await backups.setAside('/shows/tide.json', Buffer.from('x'))
  writeFileSync(join(state, 'backups', 'aside-by-hand.json'), '{}')
  expect(await backups.aside()).toHaveLength(1)
})
