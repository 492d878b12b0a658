import { connect } from 'node:net'
import { WebSocket } from 'ws'
import type { FromHost } from '../../src/contract/from-host.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import { eventually } from './eventually.ts'

type Message = Readonly<Record<string, unknown>> & { readonly type: string }

/** A program that connects to a host as it likes: no browser keeps it from lying about who it is. */
export interface Caller {
  /** HTTP status with which the connection was refused. */
  readonly status: number | undefined
  /** Code with which the socket was closed. */
  readonly closed: number | undefined
  readonly said: readonly FromHost[]
  of<Type extends FromHost['type']>(type: Type): Extract<FromHost, { type: Type }>[]
  /** A message of the contract's version. */
  ask(message: Message): void
  /** Anything; bytes go as a binary frame. */
  send(raw: string | Uint8Array): void
  /** Reads nothing any more. */
  deafen(): void
  hangUp(): Promise<void>
}

export interface CallOptions {
  /** Where to: `127.0.0.1:4117`. */
  readonly at: string
  readonly path?: string
  readonly host?: string
  /** null: none. Left out: as a page of the host's own has it. */
  readonly origin?: string | null
}

/** Connects; resolves when the socket is open or refused. */
export async function call({
  at,
  path = '/host',
  host = at,
  origin = `http://${host}`,
}: CallOptions): Promise<Caller> {
  const headers = { Host: host, ...(origin === null ? {} : { Origin: origin }) }
  const socket = new WebSocket(`ws://${at}${path}`, { headers, perMessageDeflate: false })
  const said: FromHost[] = []
  const how: { status?: number; closed?: number; isOpen: boolean } = { isOpen: false }
  socket.on('open', () => void (how.isOpen = true))
  socket.on('unexpected-response', (_request, { statusCode = 0 }) => {
    how.status = statusCode
    socket.terminate()
  })
  socket.on('message', (data) => said.push(JSON.parse(data.toString()) as FromHost))
  socket.on('close', (code) => void (how.closed = code))
  socket.on('error', () => {})
  await eventually(() => how.isOpen || how.status !== undefined || how.closed !== undefined)
  return {
    get status() {
      return how.status
    },
    get closed() {
      return how.closed
    },
    said,
    of: <Type extends FromHost['type']>(type: Type) =>
      said.filter((message): message is Extract<FromHost, { type: Type }> => message.type === type),
    ask: (message) => socket.send(JSON.stringify({ v: CONTRACT_VERSION, ...message })),
    send: (raw) => socket.send(raw, () => {}),
    deafen: () => socket.pause(),
    hangUp: async () => {
      if (how.closed !== undefined) return
      socket.terminate()
      await eventually(() => how.closed !== undefined)
    },
  }
}

/** Connects and enters; resolves when the host has answered, one way or the other. */
export async function enter(options: CallOptions, pass: { key?: string; code?: string }): Promise<Caller> {
  const caller = await call(options)
  if (caller.status !== undefined) return caller
  caller.ask({ type: 'enter', ...pass })
  await eventually(() => caller.closed !== undefined || caller.of('welcome').length > 0)
  return caller
}

/** Sends exactly these characters as bytes (Latin-1) over a connection, and gives what comes back until it is closed. */
export function sendRaw(at: string, text: string): Promise<string> {
  const [address = '', port = ''] = at.split(':')
  return new Promise((resolve, reject) => {
    const socket = connect({ host: address, port: Number(port) }, () => socket.write(text, 'latin1'))
    let answer = ''
    socket.setEncoding('latin1').on('data', (chunk: string) => (answer += chunk))
    socket.on('close', () => resolve(answer))
    socket.on('error', reject)
    socket.setTimeout(5_000, () => socket.destroy())
  })
}
