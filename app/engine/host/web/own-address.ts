/** How a connection reached us, by its own socket. */
export interface Reached {
  readonly localAddress: string
  readonly port: number
}

/** Whether an address is this machine speaking to itself over no network. */
export function isLoopback(address: string | undefined): boolean {
  return address !== undefined && (/^(?:::ffff:)?127\./i.test(address) || address === '::1')
}

/**
 * Whether the Host header names the very address that the connection came in by. A page of another site whose name was made to lead here (DNS rebinding) sends
 * that name, and is told from a page of ours by it.
 */
export function isOurHost(host: string | undefined, { localAddress, port }: Reached): boolean {
  if (host === undefined) return false
  const address = localAddress.replace(/^::ffff:/i, '')
  const names = isLoopback(localAddress) ? [address, 'localhost'] : [address]
  return names.some((name) => host === `${name}:${port}` || (port === 80 && host === name))
}

/** Whether a page of ours, under that Host header, makes the connection. Programs that are no browsers must say so too. */
export function isOurOrigin(origin: string | undefined, host: string): boolean {
  return origin === `http://${host}`
}
