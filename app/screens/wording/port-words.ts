import type { PortStatus } from '../../../src/contract/from-engine.ts'
import type { HouseView } from '../controllers/house-view.ts'

const STATES: Readonly<Record<PortStatus['state'], string>> = {
  missing: 'not there',
  open: 'open',
  ready: 'ready',
  lost: 'lost',
  busy: 'taken by another program',
  ambiguous: 'more than one of that name',
  unavailable: 'cannot be had',
  cut: 'cut: our own output came back in',
}

export function portState(state: PortStatus['state']): string {
  return STATES[state]
}

/** Whether it does what it is there for. A serial port that is only open has no answer from its lamp box yet. */
export function isPortFine({ kind, state }: PortStatus): boolean {
  return state === 'ready' || (state === 'open' && kind !== 'serial')
}

/** The show's ports that are not fine: players first, then outputs. Ports of a show before this one are left out. */
export function portTroubles({ show, ports }: HouseView): readonly PortStatus[] {
  if (!show) return []
  const ids = [...show.show.players, ...show.show.rig.outputs].map(({ id }) => id)
  return ids.flatMap((id) => {
    const port = ports.get(id)
    return port && !isPortFine(port) ? [port] : []
  })
}
