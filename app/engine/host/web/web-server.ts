import type { IncomingMessage, Server, ServerResponse } from 'node:http'
import { createServer } from 'node:http'
import type { Duplex } from 'node:stream'
import { WebSocketServer } from 'ws'
import { LONGEST_MESSAGE } from '../../../../src/contract/to-host.ts'
import type { RemoteDoor } from '../entry.ts'
import { Door } from './door.ts'
import { Entrance } from './entrance.ts'
import { Listeners } from './listeners.ts'
import { isLoopback, isOurHost, isOurOrigin } from './own-address.ts'
import type { RefusalWhy } from './refusals.ts'
import { Refusals } from './refusals.ts'
import { ScreenFiles, turnAway } from './screen-files.ts'
import type { ScreenHost } from './screen-host.ts'
import { createSeldom } from './seldom.ts'

/** Where screens connect to the host. */
const HOST_PATH = '/host'
/** Of one listener; more are dropped at once. */
const MOST_CONNECTIONS = 64
const CLOSING_MS = 1_000
const TELL_EVERY_MS = 500

const SOCKETS = {
  noServer: true,
  maxPayload: LONGEST_MESSAGE,
  perMessageDeflate: false,
  clientTracking: false,
  /** A socket that does not answer its closing is dropped after so many milliseconds. */
  closeTimeout: CLOSING_MS,
}

export interface WebServerOptions {
  readonly host: ScreenHost
  /** The built screens. */
  readonly screens: string
  /** 0: any that is free. */
  readonly port: number
  /** Whether the next free port will do. */
  readonly mayMove: boolean
  /** Whether other devices on this machine's networks may come in. */
  readonly isRemote: boolean
  /** What the host is told of the door, for whoever shows it elsewhere. */
  readonly told?: (door: RemoteDoor) => void
}

/** The host for browsers: the screens over HTTP, and their way to the host over a web socket. */
export class WebServer {
  readonly #options: WebServerOptions
  readonly #files: ScreenFiles
  readonly #door: Door
  readonly #entrance: Entrance
  readonly #listeners: Listeners
  readonly #refusals: Refusals
  readonly #tell: { (): void; stop(): void }
  readonly #sockets = new WebSocketServer(SOCKETS)

  private constructor(options: WebServerOptions) {
    this.#options = options
    const { host, isRemote } = options
    this.#tell = createSeldom(TELL_EVERY_MS, () => this.#tellDoor())
    const changed = (): void => {
      if (isRemote) this.#tell()
    }
    this.#files = new ScreenFiles(options.screens)
    this.#door = new Door({ letsRemote: isRemote })
    this.#refusals = new Refusals(changed)
    this.#entrance = new Entrance({ host, door: this.#door, refusals: this.#refusals, changed })
    this.#listeners = new Listeners({ ...options, create: () => this.#create(), changed })
  }

  /** Throws PortTaken; and where the folder of the screens cannot be read. */
  static async start(options: WebServerOptions): Promise<WebServer> {
    const server = new WebServer(options)
    try {
      await server.#listeners.open()
    } catch (error) {
      await server.stop()
      throw error
    }
    if (options.isRemote) server.#tell()
    return server
  }

  /** For this machine's browser; whoever has it comes in. */
  get address(): string {
    return `http://127.0.0.1:${this.#listeners.port}/#key=${this.#door.localKey}`
  }

  get refusals(): Pick<Refusals, 'total' | 'words'> {
    return this.#refusals
  }

  /** Closes everything; resolves when nobody is connected any more, after a second at most. */
  async stop(): Promise<void> {
    this.#tell.stop()
    this.#listeners.close()
    this.#entrance.close()
    await this.#entrance.empty(CLOSING_MS)
  }

  #create(): Server {
    const server = createServer({
      headersTimeout: 5_000,
      requestTimeout: 5_000,
      keepAliveTimeout: 5_000,
      connectionsCheckingInterval: 1_000,
      maxHeaderSize: 8_192,
    })
    server.maxConnections = MOST_CONNECTIONS
    server.on('drop', () => this.#refusals.count('too many connections'))
    server.on('request', (request, response) => void this.#answer(request, response))
    server.on('upgrade', (request, stream, head) => this.#upgrade(request, stream, head))
    server.on('clientError', (_error, stream: Duplex) => {
      this.#refusals.count('not understood')
      stream.destroy()
    })
    return server
  }

  async #answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    if (!isOurHost(request.headers.host, reached(request))) {
      this.#refusals.count('wrong host')
      turnAway(response, 421, 'no host of this name here')
      return
    }
    const isFile = await this.#files.answer(request, response)
    if (!isFile) this.#refusals.count('no such file')
  }

  #upgrade(request: IncomingMessage, stream: Duplex, head: Buffer): void {
    stream.on('error', () => stream.destroy())
    const { host, origin } = request.headers
    const fromHere = isLoopback(request.socket.remoteAddress)
    if (!isOurHost(host, reached(request)))
      return this.#refuse(stream, 'wrong host', '421 Misdirected Request')
    if (!isOurOrigin(origin, host ?? '')) return this.#refuse(stream, 'wrong origin', '403 Forbidden')
    if (request.url !== HOST_PATH) return this.#refuse(stream, 'no such file', '404 Not Found')
    if (!this.#entrance.hasRoom(fromHere))
      return this.#refuse(stream, 'too many connections', '503 Service Unavailable')
    this.#sockets.handleUpgrade(request, stream, head, (socket) =>
      this.#entrance.take(socket, stream, fromHere),
    )
  }

  #refuse(stream: Duplex, why: RefusalWhy, status: string): void {
    this.#refusals.count(why)
    stream.end(`HTTP/1.1 ${status}\r\nConnection: close\r\nContent-Length: 0\r\n\r\n`, () => stream.destroy())
  }

  #tellDoor(): void {
    const door: RemoteDoor = {
      addresses: this.#listeners.networkAddresses,
      code: this.#door.code,
      screens: this.#entrance.remoteScreens,
      refused: this.#refusals.total,
    }
    this.#options.host.setRemote(door)
    this.#options.told?.(door)
  }
}

function reached({ socket }: IncomingMessage): { localAddress: string; port: number } {
  return { localAddress: socket.localAddress ?? '', port: socket.localPort ?? 0 }
}
