import type { SerialOutput } from '../../../src/domain/rig.ts'
import { matchPort, type RememberedPort } from './serial-match.ts'
import {
  SerialOpenError,
  type SerialPortHandle,
  type SerialPortHandlers,
  type SerialPortInfo,
  type SerialSystem,
} from './serial-system.ts'

export interface Opened {
  readonly handle: SerialPortHandle
  /** On another path than the show has. */
  readonly moved: boolean
}

/**
 * Opens the port of an output: where it was remembered, wherever it is now; else on the path that the show has. Rejects with a
 * SerialOpenError.
 */
export async function openOutput(
  system: SerialSystem,
  output: SerialOutput,
  remembered: RememberedPort | undefined,
  taken: readonly string[],
  handlers: SerialPortHandlers,
): Promise<Opened> {
  const path = remembered ? await findPath(system, output, remembered, taken) : output.port
  return { handle: await system.open(path, output.baud, handlers), moved: path !== output.port }
}

async function findPath(
  system: SerialSystem,
  { port }: SerialOutput,
  remembered: RememberedPort,
  taken: readonly string[],
): Promise<string> {
  const ports = (await listedPorts(system)) ?? []
  const match = matchPort(port, remembered, ports, taken)
  switch (match.kind) {
    case 'found':
      return match.port.path
    case 'ambiguous': {
      const paths = match.ports.map(({ path }) => path).join(', ')
      throw new SerialOpenError(
        'ambiguous',
        `${port}: the lamp box is on another port now, and ${paths} all look like it. Say in the show which one it is`,
      )
    }
    case 'absent':
      // Not every port is listed (a link to one, a pty), but one that is and is another device is left alone.
      if (ports.every(({ path }) => path !== port)) return port
      throw new SerialOpenError(
        'absent',
        `${port}: another device is on this port than the lamp box that was. Plug the lamp box in, or name its port in the show`,
      )
  }
}

/** What the system lists; undefined where it cannot. */
export async function listedPorts(system: SerialSystem): Promise<readonly SerialPortInfo[] | undefined> {
  try {
    return await system.list()
  } catch {
    return undefined
  }
}
