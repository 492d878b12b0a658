import type { LampId } from '../../domain/ids.ts'
import type { Report } from '../report.ts'

type Flash = Report['flash']
type LampFlash = Flash['lamps'][LampId] & { readonly id: LampId }

/** The lamp that flashes most often in one second; the first of equals, undefined where none flashes. */
export function flashiestLamp(flash: Flash): LampFlash | undefined {
  return most(flash, ({ perSecondMax }) => perSecondMax)[0]
}

/** Lamps with time in the band of concern, longest first. */
export function longestInBand(flash: Flash): LampFlash[] {
  return most(flash, ({ bandSeconds }) => bandSeconds)
}

function most({ lamps }: Flash, of: (lamp: LampFlash) => number): LampFlash[] {
  return Object.entries(lamps)
    .map(([id, lamp]) => ({ id, ...lamp }))
    .filter((lamp) => of(lamp) > 0)
    .sort((a, b) => of(b) - of(a))
}
