import { expect, test } from 'vitest'
import { portFates } from '../../../../app/engine/ports/port-fate.ts'

const stays = (name: string) => ({ kind: 'stays', name })
const lost = { kind: 'lost' }
const doubt = { kind: 'doubt' }

test.each<[string, string[], string[], string[], unknown[]]>([
  ['others come and go', ['Fern'], ['Moss', 'Fern'], ['Reed', 'Fern', 'Sedge'], [stays('Fern')]],
  [
    'the list turns round',
    ['Fern', 'Moss'],
    ['Fern', 'Moss'],
    ['Moss', 'Fern'],
    [stays('Fern'), stays('Moss')],
  ],
  ['it is pulled', ['Fern'], ['Fern', 'Moss'], ['Moss'], [lost]],
  ['its count changes', ['2- Fern'], ['2- Fern'], ['Fern'], [stays('Fern')]],
  [
    'two change counts, in order',
    ['Fern', '2- Fern'],
    ['Fern', '2- Fern'],
    ['3- Fern', '4- Fern'],
    [stays('3- Fern'), stays('4- Fern')],
  ],
  ['a new address is a new plugging', ['Fern 20:0'], ['Fern 20:0'], ['Fern 24:0'], [lost]],
  ['one of two equal names goes', ['Fern', 'Fern'], ['Fern', 'Fern'], ['Fern'], [doubt, doubt]],
  ['an equal name that nobody wants goes', ['Fern'], ['Fern', 'Fern'], ['Fern'], [doubt]],
  ['both equal names go', ['Fern', 'Fern'], ['Fern', 'Fern'], [], [lost, lost]],
  [
    'a third equal name comes',
    ['Fern', 'Fern'],
    ['Fern', 'Fern'],
    ['Fern', 'Fern', 'Fern'],
    [stays('Fern'), stays('Fern')],
  ],
  [
    'of two numbered ones, one goes',
    ['Fern', '2- Fern'],
    ['Fern', '2- Fern'],
    ['2- Fern'],
    [lost, stays('2- Fern')],
  ],
  ['two go and one comes', ['2- Fern', '3- Fern'], ['2- Fern', '3- Fern'], ['Fern'], [lost, lost]],
])('%s', (_what, held, before, now, fates) => {
  expect(portFates(held, before, now)).toEqual(fates)
})
