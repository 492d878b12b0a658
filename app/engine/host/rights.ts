import type { ToHost } from '../../../src/contract/to-host.ts'
import type { Place } from './entry.ts'

/** Why a screen may not ask that, for the person in front of it; undefined: it may. */
export function refusal(type: ToHost['type'], place: Place): string | undefined {
  switch (type) {
    case 'open-file':
    case 'open-text':
    case 'save':
    case 'file-changed':
    case 'recovery':
      return place === 'remote'
        ? 'Files are opened and saved on the machine that plays, not on other devices.'
        : undefined
    case 'begin':
    case 'sleep':
    case 'awake':
    case 'quit':
      return place === 'window' ? undefined : 'Only the desktop app may ask that.'
    default:
      return undefined
  }
}
