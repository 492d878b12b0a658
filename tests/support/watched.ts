import { MemoryMidi } from '../../app/engine/ports/midi-memory.ts'
import type { PortWay } from '../../app/engine/ports/midi-system.ts'
import type { PortEvent } from '../../app/engine/ports/port-event.ts'
import type { RememberedPort } from '../../app/engine/ports/port-match.ts'
import { PortWatch } from '../../app/engine/ports/port-watch.ts'
import { FakeTimer } from './fake-timer.ts'

/** A watch over a system in memory, in time that only the test moves, and all that it said and heard. */
export function watched() {
  const timer = new FakeTimer()
  const midi = new MemoryMidi(() => timer.now())
  const events: PortEvent[] = []
  const heard: { readonly key: string; readonly bytes: number[] }[] = []
  const watch = new PortWatch({ system: midi, report: (event) => events.push(event), timer })
  return {
    timer,
    midi,
    watch,
    events,
    heard,
    want: (way: PortWay, key: string, port: RememberedPort) =>
      watch.want(
        way === 'output'
          ? { key, way, port }
          : { key, way, port, heard: (bytes) => heard.push({ key, bytes: [...bytes] }) },
      ),
    /** What was said since the last call, as `key kind`. */
    said: () => events.splice(0).map((event) => `${event.wanted} ${event.kind}`),
  }
}
