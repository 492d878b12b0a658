import { readdirSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import type { IncomingMessage, ServerResponse } from 'node:http'
import { extname, join, relative, sep } from 'node:path'
import { HEADERS } from './headers.ts'

const KINDS: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.woff2': 'font/woff2',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
}

/** Serves the files of one folder over HTTP: those that are in its list and no others, so that no way leads out of it. */
export class ScreenFiles {
  readonly #folder: string
  #files: ReadonlyMap<string, string>

  /** Throws where the folder cannot be read. */
  constructor(folder: string) {
    this.#folder = folder
    this.#files = listed(folder)
  }

  /** GET and HEAD of a file are answered; answers whether it was one. Everything else is told what is the matter. */
  async answer(request: IncomingMessage, response: ServerResponse): Promise<boolean> {
    if (request.method !== 'GET' && request.method !== 'HEAD') {
      turnAway(response, 405, 'only GET and HEAD', { allow: 'GET, HEAD' })
      return false
    }
    const path = (request.url ?? '').split('?', 1)[0] ?? ''
    if (path === '/favicon.ico') {
      // Browsers ask for one whether there is any or not.
      response.writeHead(204, HEADERS).end()
      return true
    }
    const isPage = path === '/' || path === '/index.html'
    // After a new build the page names other files.
    if (isPage) this.#files = listed(this.#folder)
    const file = this.#files.get(path === '/' ? '/index.html' : path)
    const kind = file === undefined ? undefined : KINDS[extname(file)]
    if (file === undefined || kind === undefined) {
      turnAway(response, 404, 'not here')
      return false
    }
    let content: Buffer
    try {
      content = await readFile(file)
    } catch {
      turnAway(response, 404, 'not here any more; load the page again')
      return true
    }
    response.writeHead(200, {
      ...HEADERS,
      'content-type': kind,
      'content-length': content.length,
      // All other files have a name that changes with what is in them.
      'cache-control': isPage ? 'no-cache' : 'private, max-age=31536000, immutable',
    })
    response.end(request.method === 'HEAD' ? undefined : content)
    return true
  }
}

/** Answers in a line of text, and closes. */
export function turnAway(
  response: ServerResponse,
  status: number,
  words: string,
  more: Readonly<Record<string, string>> = {},
): void {
  response.writeHead(status, {
    ...HEADERS,
    ...more,
    'content-type': 'text/plain; charset=utf-8',
    'cache-control': 'no-store',
    connection: 'close',
  })
  response.end(`${words}\n`)
}

/** Address paths, and the files behind them. */
function listed(folder: string): ReadonlyMap<string, string> {
  const entries = readdirSync(folder, { recursive: true, withFileTypes: true })
  return new Map(
    entries
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name))
      .map((file) => [`/${relative(folder, file).split(sep).join('/')}`, file]),
  )
}
