import { expect, test } from 'vitest'
import { found, lead, quietHouse, rig, tide } from '../../../support/checked-show.ts'

const wire = (more: object) => rig({}, [{ id: 'wire', kind: 'serial', port: 'virtual', ...more }])
const MIDI = { kind: 'midi', port: 'Box', layout: 'channel-per-lamp' }

/** Fern to sedge on channels 1 to 4 of wire, ivy on the first channel of din. */
const twoOutputs = (first: object, second: object) => {
  const outputs = [
    { ...MIDI, id: 'wire', ...first },
    { ...MIDI, id: 'din', ...second },
  ]
  const { lamps, ...rest } = rig({}, outputs)
  const ivy = { id: 'ivy', output: 'din', slot: 0, supply: 'bench', watts: 5 }
  const all = ['fern', 'moss', 'reed', 'sedge', 'ivy']
  return quietHouse({
    rig: { ...rest, lamps: [...(lamps as object[]), ivy] as never },
    songs: [tide([lead({ lamps: all })])],
  })
}

test('two MIDI outputs on one port and channel', () => {
  expect(found(twoOutputs({}, { firstChannel: 4 }))).toEqual([
    expect.stringMatching(
      /^warning, \$\.rig\.outputs\[1\]: outputs wire and din both speak to port "Box" on channel 4:/,
    ),
  ])
  expect(found(twoOutputs({}, { firstChannel: 5 }))).toEqual([])
  expect(found(twoOutputs({}, { firstChannel: 4, port: 'Other box' }))).toEqual([])
})

test('a coarse bend', () => {
  // MIDI 1.0: 48 x 100 / 8192 = 0.586 cents a step.
  expect(found(twoOutputs({ bendRange: 48 }, { firstChannel: 5 }))).toEqual([
    expect.stringMatching(
      /^note, \$\.rig\.outputs\[0\]: a bend range of 48 semitones has steps of 0.586 cents, so a pitch may be 0.293 cents off/,
    ),
  ])
})

test('a receiver that goes by fewer bits', () => {
  // MIDI 1.0, upper 7 bits of a bend: 2 x 100 / 64 = 3.125 cents a step.
  const said = found(twoOutputs({ bendBits: 7 }, { firstChannel: 5 }))
  expect(said.filter((one) => one.includes('bend range'))).toEqual([
    'note, $.rig.outputs[0]: a bend range of 2 semitones has steps of 3.13 cents to a receiver that goes by 7 bits of a bend, so a pitch may be 1.56 cents off.',
  ])
  const wide = found(twoOutputs({ bendBits: 7, bendRange: 48 }, { firstChannel: 5 }))
  // 48 x 100 / 64 = 75 cents a step.
  expect(wide.filter((one) => one.includes('steps of 75 cents'))).toHaveLength(1)
})

test('the steps that an MPE zone has by its standard are not told', () => {
  const zone = rig({}, [{ ...MIDI, id: 'wire', layout: 'mpe' }])
  expect(found(quietHouse({ rig: zone }))).toEqual([])
})

const show = (thru: object) => ({
  ...twoOutputs({}, { firstChannel: 5 }),
  thru: [{ player: 'keys', to: 'wire', ...thru }],
})

test('thru into a channel of the lamps', () => {
  expect(found(show({ pass: ['bend', 'clock'], channel: 5 }) as never)).toEqual([
    expect.stringMatching(
      /^warning, \$\.thru\[0\]: what player keys sends \(bend\) goes to output wire on channel 5, where lamps are/,
    ),
  ])
  expect(found(show({ pass: ['bend'], channel: 16 }) as never)).toEqual([])
  expect(found(show({ pass: ['clock'], channel: 5 }) as never)).toEqual([])
})

test('a line that takes long to say everything', () => {
  // 7 bytes a lamp and 11 around them (see the frame's layout), 10 bits a byte: 39 bytes, 40.6 ms at 9,600 baud.
  expect(found(quietHouse({ rig: wire({ baud: 9600 }) }))).toEqual([
    expect.stringMatching(
      /^note, \$\.rig\.outputs\[0\]: the full state of 4 lamps is 39 bytes, 40.6 ms on the wire at 9600 baud/,
    ),
  ])
})

test('a baud rate that a 16 MHz AVR misses by over 2 %', () => {
  // ATmega640/1280/2560 data sheet: 16e6 / (8 x 17) = 117647, 2.1 % over 115200; 250000 is exact.
  expect(found(quietHouse({ rig: wire({ baud: 115_200 }) }))).toEqual([
    expect.stringMatching(/^note, .*115200 baud comes out as 117647 on an AVR lamp box at 16 MHz, \+2.1 %/),
  ])
  expect(found(quietHouse({ rig: wire({ baud: 250_000 }) }))).toEqual([])
})
