import type { ElectronApi, UsedContents } from './electron-api.ts'
import { SCREENS_ORIGIN } from './screens-protocol.ts'

/** A page of ours may copy text; nothing else is granted to anybody. */
const GRANTED = 'clipboard-sanitized-write'

export function isOurs(address: string): boolean {
  return address === SCREENS_ORIGIN || address.startsWith(`${SCREENS_ORIGIN}/`)
}

/** No permission but the one, and no request but to our own files. */
export function fenceSession({ session }: Pick<ElectronApi, 'session'>): void {
  const { defaultSession } = session
  defaultSession.setPermissionRequestHandler((contents, permission, grant) =>
    grant(permission === GRANTED && isOurs(contents.getURL())),
  )
  defaultSession.setPermissionCheckHandler(
    (_contents, permission, origin) => permission === GRANTED && isOurs(origin.replace(/\/$/, '')),
  )
  defaultSession.webRequest.onBeforeRequest((details, answer) => {
    const mayPass = isOurs(details.url) || /^(devtools|data|blob):/.test(details.url)
    answer({ cancel: !mayPass })
  })
}

/** A window shows our page and no other, opens no window, and hosts no page in a page. */
export function fenceContents(contents: UsedContents): void {
  contents.setWindowOpenHandler(() => ({ action: 'deny' }))
  contents.on('will-navigate', (event) => {
    if (!isOurs(event.url)) event.preventDefault()
  })
  contents.on('will-redirect', (event) => {
    if (!isOurs(event.url)) event.preventDefault()
  })
  contents.on('will-attach-webview', (event) => event.preventDefault())
}
