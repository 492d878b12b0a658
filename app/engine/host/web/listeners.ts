import type { Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { networkInterfaces } from 'node:os'

const LOOPBACK = '127.0.0.1'
/** A port that is taken and was not asked for: so many after it are tried. */
const MORE_PORTS = 50
/** Networks come and go. */
const LOOK_EVERY_MS = 5_000

/** The port that was asked for cannot be had. */
export class PortTaken extends Error {}

export interface ListenersOptions {
  readonly create: () => Server
  /** 0: any that is free. */
  readonly port: number
  /** Whether the next free one will do. */
  readonly mayMove: boolean
  /** Whether to listen on this machine's networks besides. */
  readonly isRemote: boolean
  /** The addresses where it listens on networks are others than before. */
  readonly changed: () => void
}

/**
 * One server for this machine and, with `isRemote`, one for each of its network addresses, all on one port. Each has its own limits: whatever happens on a network, this
 * machine's screens find their way. Networks that come later are found, those that are gone are left.
 */
export class Listeners {
  readonly #options: ListenersOptions
  readonly #network = new Map<string, Server>()
  #local: Server | undefined
  #port = 0
  #look: NodeJS.Timeout | undefined

  constructor(options: ListenersOptions) {
    this.#options = options
  }

  get port(): number {
    return this.#port
  }

  /** `192.168.1.20:4117` */
  get networkAddresses(): readonly string[] {
    return [...this.#network].filter(([, { listening }]) => listening).map(([one]) => `${one}:${this.#port}`)
  }

  /** Throws PortTaken. */
  async open(): Promise<void> {
    const { create, port, mayMove, isRemote } = this.#options
    const last = mayMove && port !== 0 ? Math.min(65_535, port + MORE_PORTS) : port
    for (let tried = port; this.#local === undefined; tried++) {
      const server = create()
      try {
        await listen(server, tried, LOOPBACK)
        this.#local = server
        this.#port = (server.address() as AddressInfo).port
      } catch (error) {
        if (tried < last && isTaken(error)) continue
        throw new PortTaken(portWords(error, tried))
      }
    }
    if (!isRemote) return
    await this.#lookAtNetworks()
    this.#look = setInterval(() => void this.#lookAtNetworks(), LOOK_EVERY_MS)
  }

  close(): void {
    clearInterval(this.#look)
    for (const server of [this.#local, ...this.#network.values()]) {
      server?.close()
      server?.closeIdleConnections()
    }
  }

  async #lookAtNetworks(): Promise<void> {
    const before = this.networkAddresses.join()
    const now = ownNetworkAddresses()
    for (const [address, server] of this.#network) {
      if (now.includes(address)) continue
      this.#network.delete(address)
      server.close()
    }
    await Promise.all(now.filter((one) => !this.#network.has(one)).map((one) => this.#add(one)))
    if (this.networkAddresses.join() !== before) this.#options.changed()
  }

  async #add(address: string): Promise<void> {
    const server = this.#options.create()
    this.#network.set(address, server)
    try {
      await listen(server, this.#port, address)
    } catch {
      // The port is another program's there, or the address is gone again; the next look tries anew.
      this.#network.delete(address)
    }
  }
}

function ownNetworkAddresses(): string[] {
  return Object.values(networkInterfaces())
    .flatMap((addresses) => addresses ?? [])
    .filter(({ family, internal }) => family === 'IPv4' && !internal)
    .map(({ address }) => address)
}

function listen(server: Server, port: number, address: string): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once('error', reject)
    server.listen({ port, host: address }, () => {
      server.off('error', reject)
      resolve()
    })
  })
}

function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error ? String(error.code) : ''
}

function isTaken(error: unknown): boolean {
  return ['EADDRINUSE', 'EACCES'].includes(codeOf(error))
}

function portWords(error: unknown, port: number): string {
  switch (codeOf(error)) {
    case 'EADDRINUSE':
      return `Port ${port} is another program's, perhaps of another Lanthorn; end that, or name another with --port`
    case 'EACCES':
      return `The system does not let us have port ${port}; name one from 1024 on with --port`
    default:
      return `Port ${port} cannot be opened: ${error instanceof Error ? error.message : String(error)}`
  }
}
