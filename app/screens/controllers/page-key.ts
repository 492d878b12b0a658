const KEY = 'lanthorn-key'

/** From an earlier welcome in this tab, else from the address the host gave, where it stands after the hash as `key=`; it is taken out of sight. */
export function keyOfPage(): string | undefined {
  const found = /(?:^#|&)key=([\w-]+)/.exec(location.hash)
  if (found) {
    keepKey(found[1] ?? '')
    history.replaceState(null, '', location.pathname + location.search)
  }
  return sessionStorage.getItem(KEY) ?? undefined
}

/** For the next time this tab enters: after a reload, or when the connection was lost. */
export function keepKey(key: string): void {
  sessionStorage.setItem(KEY, key)
}

export function forgetKey(): void {
  sessionStorage.removeItem(KEY)
}
