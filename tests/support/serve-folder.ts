import { createReadStream, existsSync } from 'node:fs'
import type { Server } from 'node:http'
import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { extname, join, normalize } from 'node:path'

const KINDS: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.woff2': 'font/woff2',
  '.svg': 'image/svg+xml',
}

/** A folder over HTTP on this machine, for pages that need no host. */
export async function serveFolder(
  folder: string,
): Promise<{ url: string; server: Server; stop(): Promise<void> }> {
  const server: Server = createServer((request, response) => {
    const asked = normalize(decodeURIComponent((request.url ?? '/').split('?')[0] ?? '/'))
    const path = join(folder, asked === '/' ? 'index.html' : asked)
    if (!path.startsWith(folder) || !existsSync(path)) {
      response.writeHead(404).end()
      return
    }
    response.writeHead(200, { 'content-type': KINDS[extname(path)] ?? 'application/octet-stream' })
    createReadStream(path).pipe(response)
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.address() as AddressInfo
  return {
    url: `http://127.0.0.1:${port}/`,
    server,
    stop: () => new Promise((resolve) => server.close(() => resolve())),
  }
}
