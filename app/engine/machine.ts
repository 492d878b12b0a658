import { uptime } from 'node:os'
import type { Show } from '../../src/domain/show.ts'
import type { Micros } from '../../src/domain/units.ts'
import type { Clock } from '../../src/time/clock.ts'
import { MemoryMidi } from './ports/midi-memory.ts'
import { realMidi } from './ports/midi-real.ts'
import type { MidiSystem } from './ports/midi-system.ts'
import type { PollTimer } from './ports/poll-timer.ts'
import { MemorySerial } from './ports/serial-memory.ts'
import { realSerial } from './ports/serial-real.ts'
import type { SerialSystem, SerialTimers } from './ports/serial-system.ts'
import { systemTimers } from './ports/serial-timers.ts'
import { RealClock } from './real-clock.ts'
import { plugBox } from './virtual-box/plug-box.ts'

/** What an engine plays on: the machine's ports and time, or stand-ins for them. */
export interface Machine {
  readonly midiIn: MidiSystem
  readonly midiOut: MidiSystem
  readonly serial: SerialSystem
  readonly clock: Clock
  readonly timers: SerialTimers
  readonly pollTimer?: PollTimer
  /** How long the machine has been up, sleep counted; left out where nobody looks. */
  readonly uptime?: () => Micros
}

export function realMachine(): Machine {
  const clock = new RealClock()
  const midi = realMidi()
  return {
    midiIn: midi,
    midiOut: midi,
    serial: realSerial,
    clock,
    timers: systemTimers(() => clock.now()),
    uptime: () => Math.round(uptime() * 1_000_000),
  }
}

/** The same machine with lamp boxes in memory behind a show's outputs: inputs stay real. */
export function withVirtualRig(machine: Machine, show: Show): Machine {
  const serial = new MemorySerial(machine.timers)
  const midiOut = new MemoryMidi(() => machine.clock.now())
  for (const output of show.rig.outputs) {
    if (output.kind === 'midi') {
      midiOut.plug('output', output.port)
      continue
    }
    const slots = show.rig.lamps.filter((lamp) => lamp.output === output.id).map(({ slot }) => slot)
    plugBox(serial, { path: output.port }, machine.timers, {
      lamps: Math.max(0, ...slots) + 1,
      timer: output.timer,
    })
  }
  const outputs = new Set(midiOut.outputs())
  for (const port of new Set(show.clock.send)) if (!outputs.has(port)) midiOut.plug('output', port)
  return { ...machine, serial, midiOut }
}
