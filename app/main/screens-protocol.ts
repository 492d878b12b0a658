import { readFile } from 'node:fs/promises'
import { extname, join, normalize, sep } from 'node:path'
import type { ElectronApi } from './electron-api.ts'

const SCHEME = 'lanthorn'
/** Where the window's page is: a scheme of our own, so that the page has an origin and no way to the disk. */
export const SCREENS_ORIGIN = `${SCHEME}://screens`

const KINDS: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.woff2': 'font/woff2',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
}

/** Files of our own and nothing else; what the page has to say goes over its port, so it needs no connection. */
const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self' 'unsafe-inline'",
  "font-src 'self'",
  "img-src 'self' data:",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ')

/** Before the app is ready. */
export function registerScheme({ protocol }: Pick<ElectronApi, 'protocol'>): void {
  protocol.registerSchemesAsPrivileged([
    { scheme: SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true } },
  ])
}

/** Serves the built screens, and only files that lie among them. */
export function serveScreens({ protocol }: Pick<ElectronApi, 'protocol'>, folder: string): void {
  protocol.handle(SCHEME, (request) => answer(request.url, folder))
}

async function answer(address: string, folder: string): Promise<Response> {
  const url = URL.canParse(address) ? new URL(address) : undefined
  const file =
    url && `${url.protocol}//${url.host}` === SCREENS_ORIGIN ? fileOf(url.pathname, folder) : undefined
  const kind = file === undefined ? undefined : KINDS[extname(file)]
  if (file === undefined || kind === undefined) return new Response('not here', { status: 404 })
  try {
    return new Response(await readFile(file), {
      headers: {
        'content-type': kind,
        'content-security-policy': POLICY,
        'x-content-type-options': 'nosniff',
        'referrer-policy': 'no-referrer',
      },
    })
  } catch {
    return new Response('not here', { status: 404 })
  }
}

function fileOf(pathname: string, folder: string): string | undefined {
  let path: string
  try {
    path = decodeURIComponent(pathname)
  } catch {
    return undefined
  }
  if (path.includes('\0')) return undefined
  const file = normalize(join(folder, path === '/' ? 'index.html' : path))
  return file.startsWith(folder + sep) ? file : undefined
}
