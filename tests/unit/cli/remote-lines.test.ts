import { expect, test } from 'vitest'
import { createRemoteLines } from '../../../app/cli/remote-lines.ts'

const DOOR = { addresses: ['192.168.1.20:4117'], code: '012345', screens: 0, refused: 0 }

test('address and code are said once it begins, and again only when one of them is another', () => {
  const said: string[] = []
  const { told, begin } = createRemoteLines((line) => said.push(line))
  told(DOOR)
  expect(said).toEqual([])
  begin()
  expect(said).toEqual([
    'Other devices: http://192.168.1.20:4117/\nCode: 012 345, which lets one in; then there is another.',
  ])
  told({ ...DOOR, screens: 1, refused: 7 })
  expect(said).toHaveLength(1)
  told({ ...DOOR, code: '777000' })
  expect(said.at(-1)).toContain('Code: 777 000,')
  told({ ...DOOR, code: '777000', addresses: [] })
  expect(said.at(-1)).toContain('this machine is on no network')
  expect(said).toHaveLength(3)
})

test('without a door for other devices nothing is said', () => {
  const said: string[] = []
  createRemoteLines((line) => said.push(line)).begin()
  expect(said).toEqual([])
})
