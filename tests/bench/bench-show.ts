import type { Show } from '../../src/domain/show.ts'
import { parseShow } from '../../src/show/parse-show.ts'
import { formatFaults } from '../../src/show/show-fault.ts'
import { strategies } from '../../src/strategies/registry.ts'

/** Lamps a serial output may have: its slots are bytes. */
const SLOTS = 256

/** A rig of `lamps` on serial outputs, one keyboard, one part with the given strategy on all of them. */
export function benchShow(lamps: number, strategy: Record<string, unknown>): Show {
  const outputs = Array.from({ length: Math.ceil(lamps / SLOTS) }, (_, index) => `wire${index}`)
  const ids = Array.from({ length: lamps }, (_, index) => `lamp${index}`)
  const parsed = parseShow(
    JSON.stringify({
      format: 'lanthorn-show',
      version: 1,
      title: 'Bench',
      rig: {
        supplies: [{ id: 'bench', volts: 12, maxAmps: 1000 }],
        outputs: outputs.map((id) => ({ id, kind: 'serial', port: id })),
        lamps: ids.map((id, index) => ({
          id,
          output: outputs[Math.floor(index / SLOTS)],
          slot: index % SLOTS,
          supply: 'bench',
          watts: 10,
        })),
      },
      players: [{ id: 'keys', kind: 'keys', input: { port: 'Keybed' } }],
      songs: [
        {
          id: 'song',
          title: 'Song',
          parts: [{ id: 'part', player: 'keys', lamps: ids, strategy }],
          ...(strategy['kind'] === 'steps' ? { patterns: [patternOn(ids)] } : {}),
        },
      ],
    }),
    strategies,
  )
  if (!parsed.ok) throw new Error(formatFaults(parsed.faults))
  return parsed.show
}

/** Every hit moves all rows, of lengths that differ, and lights all lamps anew. */
function patternOn(lamps: readonly string[]): Record<string, unknown> {
  const rows = lamps.map((lamp, index) => ({
    lamp,
    steps: Array.from({ length: 3 + (index % 5) }, (_, step) => ({
      note: 48 + ((5 * index + 7 * step) % 36),
    })),
  }))
  return { id: 'rain', advance: 'hit', rows }
}
