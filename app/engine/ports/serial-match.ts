import type { SerialPortInfo } from './serial-system.ts'

/** What is remembered of the port of an output, from the last time it was open. */
export type RememberedPort = Omit<SerialPortInfo, 'manufacturer'>

export type SerialMatch =
  /** `moved`: not on the path that was asked for. */
  | { readonly kind: 'found'; readonly port: SerialPortInfo; readonly moved: boolean }
  | { readonly kind: 'absent' }
  /** Several may be it: a person has to say which. */
  | { readonly kind: 'ambiguous'; readonly ports: readonly SerialPortInfo[] }

/**
 * The port of an output among those that the system lists. A path may change from one plugging in to the next and then be
 * another device's, so what is remembered goes before it: first the serial number, where only one port has it; else
 * vendor and product, where only one port has them. Of several alike the one on the path is taken, and none where that is
 * not among them. Without anything remembered only the path counts. Ports in `taken` (paths of other outputs) are left out.
 */
export function matchPort(
  path: string,
  remembered: RememberedPort | undefined,
  listed: readonly SerialPortInfo[],
  taken: readonly string[] = [],
): SerialMatch {
  const ports = listed.filter((port) => !taken.includes(port.path))
  if (!remembered || (remembered.serialNumber === undefined && remembered.vendorId === undefined)) {
    return one(
      path,
      ports.filter((port) => port.path === path),
    )
  }
  const kin = ports.filter(
    (port) => same(port.vendorId, remembered.vendorId) && same(port.productId, remembered.productId),
  )
  if (remembered.serialNumber !== undefined) {
    const numbered = kin.filter((port) => port.serialNumber === remembered.serialNumber)
    // A device with another serial number is another device, however alike; one of which the system knows none may be it.
    if (numbered.length > 0) return one(path, numbered)
    const unnumbered = kin.filter((port) => port.serialNumber === undefined)
    return one(path, unnumbered.length > 0 ? unnumbered : nameless(path, ports))
  }
  return one(path, kin.length > 0 ? kin : nameless(path, ports))
}

function one(path: string, ports: readonly SerialPortInfo[]): SerialMatch {
  const [first, second] = ports
  if (!first) return { kind: 'absent' }
  const chosen = second ? ports.find((port) => port.path === path) : first
  if (!chosen) return { kind: 'ambiguous', ports }
  return { kind: 'found', port: chosen, moved: chosen.path !== path }
}

/** The port on the path, where the system knows nothing of it but that. */
function nameless(path: string, ports: readonly SerialPortInfo[]): readonly SerialPortInfo[] {
  return ports.filter(
    (port) => port.path === path && port.serialNumber === undefined && port.vendorId === undefined,
  )
}

/** Systems write the digits in either case. */
function same(a: string | undefined, b: string | undefined): boolean {
  return a?.toLowerCase() === b?.toLowerCase()
}
