import type { ZodType } from 'zod'
import { CONTRACT_VERSION } from './version.ts'

export type ReadMessage<T> =
  { readonly ok: true; readonly message: T } | { readonly ok: false; readonly why: string }

/** Checks what came over a message port; never throws. */
export function readMessage<T>(schema: ZodType<T>, raw: unknown): ReadMessage<T> {
  const version = typeof raw === 'object' && raw !== null && 'v' in raw ? raw.v : undefined
  if (version !== CONTRACT_VERSION) {
    return { ok: false, why: `a message of version ${String(version)}; this one speaks ${CONTRACT_VERSION}` }
  }
  const parsed = schema.safeParse(raw)
  if (parsed.success) return { ok: true, message: parsed.data }
  const issue = parsed.error.issues[0]
  const where = issue?.path.length ? issue.path.map(String).join('.') : 'the message'
  return { ok: false, why: `${where}: ${issue?.message ?? 'not understood'}` }
}
