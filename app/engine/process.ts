import { setPriority } from 'node:os'
import { parentChannel } from './channel.ts'
import { Engine } from './engine.ts'
import { realMachine } from './machine.ts'

/** A process of its own: whoever started it talks to it, and when they are gone it darkens and ends. */
const machine = realMachine()
const end = (): void => {
  machine.midiIn.close()
  // Give what was said a moment to leave.
  setTimeout(() => process.exit(0), 20)
}

// Before other programs where the system lets us: a step that comes late is heard. Elsewhere we are as everybody else.
try {
  setPriority(-10)
} catch {
  // Not ours to ask for on this system.
}

// Ctrl-C reaches the whole group; the parent decides when to stop, so that the offs can leave.
for (const signal of ['SIGINT', 'SIGHUP'] as const) process.on(signal, () => {})

const engine = new Engine(parentChannel(), machine, end)
process.on('SIGTERM', () => engine.stop())
