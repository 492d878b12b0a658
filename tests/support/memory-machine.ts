import type { Machine } from '../../app/engine/machine.ts'
import { MemoryMidi } from '../../app/engine/ports/midi-memory.ts'
import { MemorySerial } from '../../app/engine/ports/serial-memory.ts'
import { plugBox } from '../../app/engine/virtual-box/plug-box.ts'
import type { VirtualBox } from '../../app/engine/virtual-box/virtual-box.ts'
import { Session } from '../../app/engine/session.ts'
import type { FromEngine } from '../../src/contract/from-engine.ts'
import type { Show } from '../../src/domain/show.ts'
import type { Micros } from '../../src/domain/units.ts'
import { firstPlace } from '../../src/graph/set-list.ts'
import type { Clock } from '../../src/time/clock.ts'
import { VirtualTimers } from './virtual-timers.ts'

/** A machine of stand-ins on one time that the test moves on: MIDI devices, a lamp box at each serial output of a show. */
export class MemoryMachine implements Machine {
  readonly timers = new VirtualTimers()
  readonly midiIn: MemoryMidi
  readonly midiOut: MemoryMidi
  readonly serial = new MemorySerial(this.timers)
  readonly clock: Clock
  readonly pollTimer
  readonly boxes = new Map<string, VirtualBox>()

  constructor(show: Show) {
    const { timers } = this
    const midi = new MemoryMidi(() => timers.now())
    this.midiIn = midi
    this.midiOut = midi
    this.clock = clockOn(timers)
    this.pollTimer = {
      now: () => timers.now() / 1000,
      after: (wait: number, run: () => void) => timers.at(timers.now() + wait * 1000, run),
    }
    for (const output of show.rig.outputs) {
      if (output.kind !== 'serial') continue
      const { box } = plugBox(this.serial, { path: output.port, serialNumber: output.id }, timers, {
        timer: output.timer,
      })
      this.boxes.set(output.id, box)
    }
  }
}

function clockOn(timers: VirtualTimers): Clock {
  let cancel = (): void => {}
  return {
    now: () => timers.now(),
    callAt(at: Micros, call: () => void): void {
      cancel()
      cancel = at === Infinity ? () => {} : timers.at(at, call)
    },
    stop: () => cancel(),
  }
}

/** A session on such a machine, and everything it said. */
export function startSession(show: Show, options: { readonly recover?: boolean } = {}) {
  const machine = new MemoryMachine(show)
  const said: FromEngine[] = []
  const session = new Session({
    show,
    place: firstPlace(show),
    recover: options.recover ?? false,
    machine,
    say: (message) => said.push(message),
  })
  const of = <Type extends FromEngine['type']>(type: Type) =>
    said.filter((message): message is Extract<FromEngine, { type: Type }> => message.type === type)
  const states = (id: string): string[] =>
    of('port').flatMap(({ port }) => (port.id === id ? [port.state] : []))
  return { machine, session, said, of, states }
}
