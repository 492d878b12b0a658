import type { FlashGuard } from '../../src/domain/flash-guard.ts'
import { strategies } from '../../src/strategies/registry.ts'
import { benchClock } from './clock.ts'
import { eventCost } from './event-cost.ts'
import { guardCost } from './guard-cost.ts'
import { benchLive } from './live.ts'
import { renderSpeeds } from './render-speed.ts'
import { benchScreensLatency } from './screens-latency.ts'
import { benchScreens } from './screens.ts'
import { benchSwitch } from './switch.ts'

const GUARDS: readonly FlashGuard[] = [
  { action: 'warn' },
  { action: 'fold' },
  { action: 'glow', seconds: 4, hz: 25_000 },
  { action: 'limit', changes: 6 },
]

/** Prints tables for people, then one line of JSON for programs. `live`: over real ports; needs what DEVELOPERS.md lists. `screens`: frames of the Stage in a browser, and what screens cost the music. `clock`: jitter of a MIDI clock over real ports. `switch`: from a program change to the first bytes of the next song. */
if (process.argv[2] === 'live') await benchLive()
else if (process.argv[2] === 'clock') await benchClock()
else if (process.argv[2] === 'screens') {
  await benchScreens()
  await benchScreensLatency()
} else if (process.argv[2] === 'switch') benchSwitch()
else benchGraph()

function benchGraph(): void {
  const sizes = [4, 16, 64, 512].map((lamps) => eventCost(lamps, { kind: 'lowest-free' }))
  const kinds = strategies.map(({ kind }) => eventCost(16, { kind, ...needed(kind, 16) }))
  const guards = GUARDS.map((guard) => guardCost(64, guard))
  const renders = renderSpeeds()
  const ratio = (sizes[3]?.medianMicros ?? 0) / (sizes[1]?.medianMicros ?? 1)

  console.log('One note event through the whole graph, from bytes in to bytes out')
  console.table([...sizes, ...kinds])
  console.log(`512 lamps against 16, lowest-free: ${ratio.toFixed(2)} times`)
  console.log('What guards cost of one note event, 64 lamps')
  console.table(guards)
  console.log('Rendering a busy take of five minutes')
  console.table(renders)
  console.log(JSON.stringify({ node: process.version, sizes, kinds, guards, renders, ratio512to16: ratio }))
}

function needed(kind: string, lamps: number): Record<string, unknown> {
  return kind === 'chime' ? { notes: Array.from({ length: lamps }, (_, index) => 36 + 4 * index) } : {}
}
