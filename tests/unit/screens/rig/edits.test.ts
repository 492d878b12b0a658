import { describe, expect, test } from 'vitest'
import { ShowDocument } from '../../../../app/engine/host/show-document.ts'
import { strategyForms } from '../../../../app/engine/host/strategy-forms.ts'
import {
  addLamp,
  moveLamp,
  removeLamp,
  renameLamp,
  setLamp,
  setLampHeat,
} from '../../../../app/screens/rig/lamp-edits.ts'
import { lampUses } from '../../../../app/screens/rig/lamp-uses.ts'
import {
  addPlayer,
  playerUses,
  removePlayer,
  renamePlayer,
  setInput,
  setKind,
} from '../../../../app/screens/rig/player-edits.ts'
import {
  addOutput,
  addSupply,
  removeOutput,
  removeSupply,
  renameOutput,
  renameSupply,
  setLayout,
  setOutput,
  setTelling,
} from '../../../../app/screens/rig/wiring-edits.ts'
import type { MakeEdit } from '../../../../app/screens/sheet/edit.ts'
import type { MidiOutput } from '../../../../src/domain/rig.ts'
import type { Show } from '../../../../src/domain/show.ts'
import { strategies } from '../../../../src/strategies/registry.ts'
import { demoShow } from '../../../support/demo.ts'

const FORMS = strategyForms(strategies)

/** The show after the edits, by the host's own document, which takes no show that is not one. */
function after(makes: readonly MakeEdit[], show: Show = demoShow()): Show {
  const document = new ShowDocument(show, { revision: 0, file: null, isSaved: true })
  for (const make of makes) {
    const edit = make(document.show)
    if (!edit) throw new Error('nothing to edit')
    const { revision: base } = document
    const edited = document.edit({ base, label: edit.label, changes: edit.changes }, 0)
    if (!edited.ok) throw new Error(JSON.stringify(edited.faults))
  }
  return document.show
}

describe('lamps', () => {
  test('an added one is named after a plant that is free, on the next free slot of its output', () => {
    const { lamps } = after([addLamp, addLamp]).rig
    expect(lamps.slice(-2)).toMatchObject([
      { id: 'clover', name: 'Clover', output: 'din', slot: 2, supply: 'bench', watts: 6 },
      { id: 'thistle', name: 'Thistle', output: 'din', slot: 3 },
    ])
  })

  test('what one bears in the mean is said, changed in part, and taken away again', () => {
    const fern = (show: Show) => show.rig.lamps.find(({ id }) => id === 'fern')
    const { watts } = fern(demoShow()) ?? { watts: 0 }
    const less = after([setLampHeat('fern', {})])
    expect(fern(less)?.heat).toEqual({ meanWatts: watts / 2, seconds: 10 })
    const said = after([setLampHeat('fern', { meanWatts: 1.5 }), setLampHeat('fern', { seconds: 30 })], less)
    expect(fern(said)?.heat).toEqual({ meanWatts: 1.5, seconds: 30 })
    expect(fern(after([setLampHeat('fern', undefined)], said))).toEqual(fern(demoShow()))
    expect(setLampHeat('fern', undefined)(demoShow())).toBeUndefined()
  })

  test('a slot that a removed lamp left is taken first', () => {
    const { lamps } = after([removeLamp('orchid', FORMS), addLamp]).rig
    expect(lamps.at(-1)).toMatchObject({ output: 'din', slot: 0 })
  })

  test('every lamp can be removed from every part that uses it, while one is left', () => {
    const ids = demoShow().rig.lamps.map(({ id }) => id)
    const left = after(ids.slice(1).map((id) => removeLamp(id, FORMS)))
    expect(left.rig.lamps.map(({ id }) => id)).toEqual(['fern'])
    expect(left.songs.flatMap(({ parts }) => parts.map(({ lamps }) => lamps))).toEqual(
      left.songs.flatMap(({ parts }) => parts.map(() => ['fern'])),
    )
  })

  test('what a strategy says of a lamp goes with it', () => {
    const { songs } = after([removeLamp('vine', FORMS), removeLamp('sedge', FORMS)])
    const [dew, mist] = songs
    // Before: unison over sedge, palm, lotus by 0, 4, -4 cents; chime of ivy, vine, orchid, sundew on 60, 62, 66, 70.
    expect(dew?.parts.map(({ strategy }) => strategy)).toMatchObject([
      {},
      { detuneCents: [4, -4] },
      { notes: [60, 66, 70] },
    ])
    expect(mist?.parts[1]).toMatchObject({ lamps: ['palm', 'lotus'], strategy: { ratios: [1, 3] } })
  })

  test('the lamps of a travel may not get fewer than it is wide', () => {
    const mist = ['fern', 'moss', 'reed', 'sedge', 'ivy', 'palm', 'lotus']
    const { songs } = after(mist.map((id) => removeLamp(id, FORMS)))
    expect(songs[1]?.parts[0]).toMatchObject({ lamps: ['vine'], strategy: { kind: 'travel', width: 1 } })
  })

  test('a part without another lamp is told, and goes', () => {
    const show = after([removeLamp('orchid', FORMS)])
    expect(lampUses(show, 'sundew').filter(({ goes }) => goes)).toMatchObject([
      { song: 1, id: 'taps' },
      { song: 2, id: 'drops' },
      { song: 3, id: 'drops' },
    ])
    const { songs } = after([removeLamp('sundew', FORMS)], show)
    expect(songs.map(({ parts }) => parts.map(({ id }) => id))).toEqual([
      ['lead', 'low', 'drips'],
      ['arc', 'roots'],
      ['round', 'leaves', 'stems'],
      ['round', 'leaves'],
    ])
  })

  test('another id is followed wherever the lamp is named', () => {
    const show = after([
      (now) => {
        const part = now.songs[1]?.parts[0]
        const strategy = { ...part?.strategy, path: ['fern', 'moss', 'fern'], width: 1 } as never
        return {
          label: 'path',
          changes: [{ do: 'set', path: ['songs', 1, 'parts', 0, 'strategy'], value: strategy }],
        }
      },
      renameLamp('fern', 'bracken'),
    ])
    expect(JSON.stringify(show.songs)).not.toContain('fern')
    expect(show.songs[1]?.parts[0]?.strategy['path']).toEqual(['bracken', 'moss', 'bracken'])
    expect(show.rig.lamps[0]).toMatchObject({ id: 'bracken', name: 'Fern' })
  })

  test('on another output a lamp keeps its slot where it is free, else gets one that is', () => {
    const moved = after([moveLamp('fern', 'din'), moveLamp('reed', 'din')]).rig.lamps
    expect([moved[0], moved[2]]).toMatchObject([
      { output: 'din', slot: 2 },
      { output: 'din', slot: 3 },
    ])
  })

  test('the label says what of whom', () => {
    expect(setLamp('palm', { x: 2, y: 1 })(demoShow())?.label).toBe('x and y of Palm, by the tank')
    expect(setLamp('gone', { x: 2 })(demoShow())).toBeUndefined()
    expect(setLamp('palm', { watts: 10 })(demoShow())).toBeUndefined()
  })
})

describe('wiring', () => {
  test('supplies are added, renamed with their lamps, and removed', () => {
    const show = after([addSupply, setLamp('fern', { supply: 'supply' }), renameSupply('supply', 'roof')])
    expect(show.rig.supplies.map(({ id }) => id)).toEqual(['bench', 'roof'])
    expect(show.rig.lamps[0]?.supply).toBe('roof')
    const back = after([setLamp('fern', { supply: 'bench' }), removeSupply('roof')], show)
    expect(back.rig.supplies).toEqual(demoShow().rig.supplies)
  })

  test('outputs are added whole, and removed with what goes through to them', () => {
    const thru = { player: 'keys', to: 'din-2', pass: ['bend'] }
    const show = after([
      addOutput('serial', '/dev/ttyUSB0'),
      addOutput('midi', 'Lamp box'),
      () => ({ label: 'thru', changes: [{ do: 'insert', path: ['thru', 0], value: thru }] }),
    ])
    expect(show.rig.outputs.slice(2)).toMatchObject([
      { id: 'wire-2', kind: 'serial', baud: 500_000, timer: { clockHz: 16_000_000, bits: 16 } },
      { id: 'din-2', kind: 'midi', layout: 'channel-per-lamp', firstChannel: 1 },
    ])
    expect(after([removeOutput('din-2')], show).thru).toEqual(demoShow().thru)
    expect(after([renameOutput('din-2', 'desk')], show).thru[0]).toMatchObject({ to: 'desk' })
  })

  test('a zone leaves channel 1 to its manager', () => {
    const show = after([addOutput('midi', 'Lamp box')])
    const output = show.rig.outputs[2]
    if (output?.kind !== 'midi') throw new Error('no MIDI output')
    expect(after([setLayout(output, 'mpe')], show).rig.outputs[2]).toMatchObject({ firstChannel: 2 })
  })

  test('a zone has its own usual bend range, and one that was chosen stays', () => {
    const din = (show: Show): MidiOutput => {
      const output = show.rig.outputs.at(-1)
      if (output?.kind !== 'midi') throw new Error('no MIDI output')
      return output
    }
    const show = after([addOutput('midi', 'Lamp box')])
    const zone = after([setLayout(din(show), 'mpe')], show)
    expect(din(zone).bendRange).toBe(48)
    expect(din(after([setLayout(din(zone), 'channel-per-lamp')], zone)).bendRange).toBe(2)
    const chosen = after([setOutput('din-2', 'bend range', { bendRange: 12 })], show)
    expect(din(after([setLayout(din(chosen), 'mpe')], chosen)).bendRange).toBe(12)
  })

  test('an output is told the tuning in another form with the numbers it has, and no more', () => {
    const show = after([addOutput('midi', 'Lamp box')])
    const din = (of: Show) => of.rig.outputs[2] as MidiOutput
    const told = after([setTelling(din(show), 'bulk')], show)
    const moved = after(
      [setOutput('din-2', 'device', { mts: { form: 'bulk', program: 0, device: 4 } })],
      told,
    )
    const octave = after([setTelling(din(moved), 'octave')], moved)
    expect(din(octave).mts).toEqual({ form: 'octave', program: 0, device: 4 })
    expect(din(after([setTelling(din(octave), '')], octave))).not.toHaveProperty('mts')
  })

  test('duty is not sent where no controller is named', () => {
    const show = after([setOutput('din', 'duty controller', { dutyController: null })])
    expect(show.rig.outputs[1]).not.toHaveProperty('dutyController')
    expect(setOutput('din', 'duty controller', { dutyController: null })(show)?.changes).toEqual([])
  })
})

describe('players', () => {
  test('are added with what their kind is set by, under a name of their own', () => {
    const { players } = after([addPlayer('strings'), addPlayer('keys')])
    expect(players.slice(3)).toMatchObject([
      { id: 'strings', name: 'Strings', input: { channels: [1, 2, 3, 4] }, minNoteMs: 20, bendRange: 12 },
      { id: 'keys-2', name: 'Keys (keys-2)', bendRange: 2 },
    ])
  })

  test('of another kind are set by other numbers, and are heard where they were', () => {
    const [keys] = after([setKind('keys', 'pads')]).players
    expect(keys).toEqual({
      id: 'keys',
      name: 'Keys',
      kind: 'pads',
      input: { port: 'Keybed', channels: [1] },
      floor: 8,
      maskMs: 12,
      crosstalkMs: 5,
      gateMs: 120,
      curve: 'linear',
      pads: [],
    })
  })

  test('go with their parts, and are renamed in them', () => {
    expect(playerUses(demoShow(), 'bass')).toHaveLength(3)
    expect(JSON.stringify(after([removePlayer('bass')]))).not.toContain('"bass"')
    const renamed = after([
      renamePlayer('bass', 'low-strings'),
      setInput('low-strings', 'port', { port: 'B' }),
    ])
    expect(renamed.songs[0]?.parts[1]?.player).toBe('low-strings')
    expect(renamed.players[2]?.input).toEqual({ port: 'B', channels: [1, 2, 3, 4] })
  })
})
