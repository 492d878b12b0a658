import { expect, test } from 'vitest'
import { found, lead, quietHouse, tide } from '../../../support/checked-show.ts'

const player = (id: string, channels: number[]) => ({
  id,
  kind: 'keys',
  input: { port: 'Keybed', channels },
})

test('players on one port and channel hear each other', () => {
  const show = quietHouse({
    players: [player('keys', [1, 2, 3]), player('pedals', [9, 3, 2])],
    songs: [
      tide([
        lead({ lamps: ['fern', 'moss'] }),
        lead({ id: 'low', player: 'pedals', lamps: ['reed', 'sedge'] }),
      ]),
    ],
  })
  expect(found(show)).toEqual([
    expect.stringMatching(
      /^note, .*players keys and pedals listen to the same port "Keybed", channels 2 and 3:/,
    ),
  ])
  expect(found({ ...show, players: [player('keys', [1]), player('pedals', [2])] })).toEqual([])
})
