import type { Show } from '../../src/domain/show.ts'
import { demoShow } from './demo.ts'

/** The demo show on a rig of so many lamps in rows of sixteen; its parts play on the first lamps of it. */
export function wideRigShow(count: number): Show {
  const show = demoShow()
  const [first] = show.rig.lamps
  if (!first) throw new Error('the demo has lamps')
  const lamps = Array.from({ length: count }, (_, slot) => ({
    ...first,
    id: `lamp${slot}`,
    name: `Sedge ${slot + 1}`,
    slot,
    x: slot % 16,
    y: -Math.floor(slot / 16),
  }))
  return { ...show, rig: { ...show.rig, lamps } }
}
