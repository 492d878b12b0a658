import type { ZodType } from 'zod'
import { CONTRACT_VERSION } from './version.ts'

export type ReadMessage<T> =
  { readonly ok: true; readonly message: T } | { readonly ok: false; readonly why: string }

/** Checks what came over a message port; never throws. */
export function readMessage<T>(schema: ZodType<T>, raw: unknown): ReadMessage<T> {
  const version = typeof raw === 'object' && raw !== null && 'v' in raw ? raw.v : undefined
  if (version !== CONTRACT_VERSION) {
    // A stranger's version may be anything, also what cannot be made a text of.
    const told = typeof version === 'number' || version === undefined ? String(version) : 'unknown'
    return { ok: false, why: `a message of version ${told}; this one speaks ${CONTRACT_VERSION}` }
  }
  const parsed = tried(schema, raw)
  if (parsed === undefined) return { ok: false, why: 'the message: nested too deep' }
  if (parsed.success) return { ok: true, message: parsed.data }
  const issue = parsed.error.issues[0]
  const where = issue?.path.length ? issue.path.map(String).join('.') : 'the message'
  return { ok: false, why: `${where}: ${issue?.message ?? 'not understood'}` }
}

/** Undefined where the stack was not enough: what a stranger sends may be nested without end. */
function tried<T>(schema: ZodType<T>, raw: unknown): ReturnType<ZodType<T>['safeParse']> | undefined {
  try {
    return schema.safeParse(raw)
  } catch (error) {
    if (error instanceof RangeError) return undefined
    throw error
  }
}
