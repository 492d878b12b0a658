import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import type { Player } from '../../../src/domain/player.ts'
import type { Control, ControlGesture } from '../../../src/domain/switching.ts'
import type { ControlsIn, ControlsOut } from '../../../src/players/controls.ts'
import { controls } from '../../../src/players/controls.ts'
import { checkProperty } from '../../support/property.ts'

const KEYS: Player = {
  id: 'keys',
  kind: 'keys',
  name: 'Keys',
  input: { port: 'Keybed', channels: [1, 2] },
  bendRange: 2,
}

const channel = fc.constantFrom(1, 2, 3)
const key = fc.constantFrom(36, 37, 38)
const controller = fc.constantFrom(64, 80)
const program = fc.constantFrom(0, 1)
const anyChannel = fc.option(channel, { nil: undefined })

const gesture: fc.Arbitrary<ControlGesture> = fc.oneof(
  fc.record({ kind: fc.constant('note' as const), key, channel: anyChannel }),
  fc.record({ kind: fc.constant('controller' as const), controller, channel: anyChannel }),
  fc.record({
    kind: fc.constant('program' as const),
    program: fc.option(program, { nil: undefined }),
    channel: anyChannel,
  }),
)
const some: fc.Arbitrary<readonly Control[]> = fc.array(
  fc.record({
    player: fc.constantFrom('keys', 'keys', 'pads'),
    on: gesture,
    do: fc.constant('next' as const),
  }),
  { maxLength: 4 },
)

const message: fc.Arbitrary<MidiMessage> = fc.oneof(
  fc.record({ type: fc.constant('note-on' as const), channel, key, velocity: fc.constant(90) }),
  fc.record({ type: fc.constant('note-off' as const), channel, key, velocity: fc.constant(64) }),
  fc.record({
    type: fc.constant('controller' as const),
    channel,
    controller,
    value: fc.constantFrom(0, 63, 64, 127),
  }),
  fc.record({ type: fc.constant('program' as const), channel, program }),
  fc.record({ type: fc.constant('bend' as const), channel, value: fc.nat(16383) }),
)
const edit = some.map((all): ControlsIn => ({ kind: 'controls', controls: all }))
const played = fc.array(fc.oneof({ weight: 12, arbitrary: message }, { weight: 1, arbitrary: edit }), {
  minLength: 20,
  maxLength: 60,
  size: 'max',
})

/** Every key up, every controller at 0. */
const LETTING_GO: readonly MidiMessage[] = [1, 2, 3].flatMap((on): MidiMessage[] => [
  ...[36, 37, 38].map((up): MidiMessage => ({ type: 'note-off', channel: on, key: up, velocity: 64 })),
  ...[64, 80].map((low): MidiMessage => ({ type: 'controller', channel: on, controller: low, value: 0 })),
])

/** What each event gives; the state is what JSON keeps of it. */
function run(all: readonly Control[], events: readonly ControlsIn[]): readonly (readonly ControlsOut[])[] {
  let state = controls.start({ player: KEYS, controls: all })
  return events.map((event, at) => {
    const step = controls.step(state, event, at)
    state = JSON.parse(JSON.stringify(step.state)) as typeof state
    return step.out
  })
}

/** Nothing is made up but the end of a note whose key became a control. */
function isStrange({ kind, message }: ControlsOut, event: ControlsIn | undefined): boolean {
  return message !== event && (kind === 'act' || message.type !== 'note-off')
}

/** What is down for those who hear what is passed. */
function follow(down: Set<string>, heard: MidiMessage): void {
  if (heard.type === 'note-on') down.add(`${heard.channel} ${heard.key}`)
  if (heard.type === 'note-off') down.delete(`${heard.channel} ${heard.key}`)
  if (heard.type !== 'controller') return
  const pedal = `${heard.channel} pedal ${heard.controller}`
  if (heard.value >= 64) down.add(pedal)
  else down.delete(pedal)
}

test('whatever is played, and however the controls are edited meanwhile, who hears a key or a pedal go down hears it come up', () => {
  let acts = 0
  checkProperty(
    'controls',
    fc.property(some, played, (all, events) => {
      const given: readonly ControlsIn[] = [...events, ...LETTING_GO]
      const down = new Set<string>()
      const strange: ControlsOut[] = []
      run(all, given).forEach((out, place) => {
        const event = given[place]
        acts += out.filter(({ kind }) => kind === 'act').length
        strange.push(...out.filter((one) => isStrange(one, event)))
        for (const one of out) if (one.kind === 'pass') follow(down, one.message)
        // One message is either played or a control; of a bend there is always one.
        const about = out.filter((one) => one.message === event).length
        if (about > 1 || (about === 0 && event && 'type' in event && event.type === 'bend'))
          strange.push(...out)
      })
      expect(strange).toEqual([])
      expect([...down]).toEqual([])
    }),
  )
  expect(acts).toBeGreaterThan(1_000)
})

test('without controls, or with those of other players only, everything passes as it came', () => {
  const others = some.map((all) => all.filter(({ player }) => player !== 'keys'))
  checkProperty(
    'no controls',
    fc.property(others, fc.array(message, { maxLength: 40 }), (all, messages) => {
      expect(run(all, messages)).toEqual(messages.map((one) => [{ kind: 'pass', message: one }]))
    }),
  )
})
