import { randomBytes, randomInt, timingSafeEqual } from 'node:crypto'

/** Where keys and codes come from; tests bring their own. */
export interface Secrets {
  drawKey(): string
  drawCode(): string
}

export const RANDOM: Secrets = {
  /** 128 bits. */
  drawKey: () => randomBytes(16).toString('base64url'),
  /** 6 digits. */
  drawCode: () => String(randomInt(1_000_000)).padStart(6, '0'),
}

/** Whether the two are the same, in a time that tells nothing of where they differ. */
export function isSameSecret(one: string, other: string): boolean {
  const [a, b] = [Buffer.from(one), Buffer.from(other)]
  return a.length === b.length && timingSafeEqual(a, b)
}
