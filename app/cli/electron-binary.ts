import { existsSync, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'

export interface Surroundings {
  readonly env: Readonly<Record<string, string | undefined>>
  readonly platform: NodeJS.Platform
}

/** Whether windows can be shown. Only Linux runs without a display. */
export function hasDisplay({ env, platform }: Surroundings): boolean {
  return platform !== 'linux' || Boolean(env.DISPLAY) || Boolean(env.WAYLAND_DISPLAY)
}

/**
 * Where Electron's program lies on this disk; undefined where it does not. Electron's own module is not asked, since it fetches what is missing, and a stage may
 * have no network.
 */
export function electronBinary(
  env: Surroundings['env'],
  folder: string | undefined = electronFolder(),
): string | undefined {
  if (folder === undefined) return undefined
  const named = join(folder, 'path.txt')
  const other = env.ELECTRON_OVERRIDE_DIST_PATH
  const program = existsSync(named) ? readFileSync(named, 'utf8').trim() : undefined
  if (program === undefined && !other) return undefined
  const path = join(other || join(folder, 'dist'), program ?? 'electron')
  return existsSync(path) ? path : undefined
}

function electronFolder(): string | undefined {
  try {
    return dirname(createRequire(import.meta.url).resolve('electron/package.json'))
  } catch {
    return undefined
  }
}
