import type { Secrets } from '../../app/engine/host/web/secrets.ts'

/** Keys `key-0`, `key-1`, ...; codes `000000`, `000001`, ... */
export function countedSecrets(): Secrets {
  let [keys, codes] = [0, 0]
  return {
    drawKey: () => `key-${keys++}`,
    drawCode: () => String(codes++).padStart(6, '0'),
  }
}
