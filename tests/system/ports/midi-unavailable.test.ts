import { afterEach, expect, test, vi } from 'vitest'
import { MidiError } from '../../../app/engine/ports/midi-error.ts'
import { MIDI_MODULE_VARIABLE } from '../../../app/engine/ports/midi-module.ts'
import { realMidi } from '../../../app/engine/ports/midi-real.ts'
import { PortWatch } from '../../../app/engine/ports/port-watch.ts'

afterEach(() => vi.unstubAllEnvs())

const BROKEN: Record<string, () => never> = {
  'the native part is missing': () => {
    throw new Error('Failed to find binding for midi')
  },
  'something that is no error is thrown': () => {
    throw 'libasound.so.2' as unknown as Error
  },
}

test.each(Object.keys(BROKEN))(
  '%s: a typed error that says what to do, at each call, and never another',
  (name) => {
    const midi = realMidi(BROKEN[name])
    const calls = [
      () => midi.inputs(),
      () => midi.outputs(),
      () => midi.openInput(0, () => {}),
      () => midi.openOutput(0),
      () => midi.openVirtualInput?.('Fern', () => {}),
      () => midi.openVirtualOutput?.('Fern'),
    ]
    for (const call of calls) {
      expect(call).toThrow(MidiError)
      expect(call).toThrow(/MIDI cannot be used|not there/)
    }
    midi.close()
  },
)

const Refusing = function (): never {
  throw new Error('Failed to initialise RtMidi')
}

test('a constructor that throws, as the stock binary does without a sequencer, is `unavailable` and told once', () => {
  const events: string[] = []
  const midi = realMidi(() => ({ Input: Refusing, Output: Refusing }) as never)
  const watch = new PortWatch({
    system: midi,
    report: (event) => events.push(`${event.wanted} ${event.kind}`),
  })
  watch.want({ key: 'keys', way: 'input', port: { name: 'Fern' }, heard: () => {} })
  watch.want({ key: 'din', way: 'output', port: { name: 'Moss' } })
  for (let look = 0; look < 5; look++) watch.poll()
  expect(events).toEqual(['keys unavailable', 'din unavailable'])
  watch.stop()
})

test('another build named by the environment that cannot be loaded is said plainly', () => {
  vi.stubEnv(MIDI_MODULE_VARIABLE, '/nowhere/midi')
  const midi = realMidi()
  expect(() => midi.inputs()).toThrow(expect.objectContaining({ kind: 'unavailable' }))
  expect(() => midi.inputs()).toThrow(/nowhere/)
})

test('the stock module lists ports, or says `unavailable`; it never ends the process', () => {
  vi.stubEnv(MIDI_MODULE_VARIABLE, '')
  const midi = realMidi()
  const said = (() => {
    try {
      return midi.inputs().map((name) => typeof name)
    } catch (thrown) {
      return thrown instanceof MidiError && thrown.message.includes('modprobe snd-seq')
        ? [thrown.kind]
        : [thrown]
    }
  })()
  expect(said.every((what) => what === 'string' || what === 'unavailable')).toBe(true)
  midi.close()
})
