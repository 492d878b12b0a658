import { join } from 'node:path'

export interface Surroundings {
  readonly env: Readonly<Record<string, string | undefined>>
  readonly platform: string
  readonly home: string
}

/** Where Lanthorn keeps what it remembers from one start to the next: `LANTHORN_STATE`, else where the system has such things. */
export function stateFolder({ env, platform, home }: Surroundings): string {
  const own = env.LANTHORN_STATE
  if (own) return own
  switch (platform) {
    case 'darwin':
      return join(home, 'Library', 'Application Support', 'Lanthorn')
    case 'win32':
      return join(env.LOCALAPPDATA || join(home, 'AppData', 'Local'), 'Lanthorn')
    default:
      // XDG Base Directory Specification 0.8: state that persists between starts.
      return join(env.XDG_STATE_HOME || join(home, '.local', 'state'), 'lanthorn')
  }
}
