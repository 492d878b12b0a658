import { type SerialFault, SerialOpenError } from './serial-system.ts'

export interface WhereOpened {
  readonly path: string
  /** As `process.platform` has it. */
  readonly platform: string
  /** The group that owns the device, where that is known. */
  readonly group?: string | undefined
}

/** What the system's own words mean: strerror on Linux and macOS, the library's words on Windows. */
const MEANINGS: readonly (readonly [RegExp, 'permission' | 'busy' | 'absent'])[] = [
  [/permission denied|operation not permitted|EACCES|EPERM/i, 'permission'],
  [/cannot lock|resource busy|resource temporarily unavailable|EBUSY|EAGAIN/i, 'busy'],
  [/no such (file|device)|file not found|ENOENT|ENXIO|ENODEV|device not configured/i, 'absent'],
]

/** Why a port did not open, in words that one can act on. */
export function serialOpenFault(cause: unknown, where: WhereOpened): SerialOpenError {
  const said = cause instanceof Error ? cause.message : String(cause)
  // Windows says the same to a second program as to one without the right; the first is by far the more common.
  const denied = where.platform === 'win32' && /access (is )?denied/i.test(said)
  const fault = denied ? 'busy' : (MEANINGS.find(([words]) => words.test(said))?.[1] ?? 'failed')
  return new SerialOpenError(fault, `${where.path}: ${advice(fault, where)} (the system says: ${said})`)
}

function advice(fault: Exclude<SerialFault, 'ambiguous'>, where: WhereOpened): string {
  switch (fault) {
    case 'permission':
      return `no permission to open this port. ${permissionRemedy(where)}`
    case 'busy':
      return where.platform === 'win32'
        ? 'another program holds this port, or this user may not open it. Close the other program (a serial monitor, another Lanthorn); if there is none, ask who administers this computer'
        : 'another program holds this port. Close it (a serial monitor, another Lanthorn)'
    case 'absent':
      return 'there is no such port. Is the lamp box plugged in? `lanthorn ports` lists what there is'
    case 'failed':
      return 'this port did not open'
  }
}

function permissionRemedy({ path, platform, group }: WhereOpened): string {
  switch (platform) {
    case 'linux':
      return `Serial ports belong to a group: add yourself to it with \`sudo usermod -a -G ${group ?? 'dialout'} "$USER"\`${group === undefined ? ' (some systems call it uucp)' : ''}, then log out and in again`
    case 'darwin':
      return `See whose it is with \`ls -l ${path}\`, and whether System Settings, Privacy & Security, waits for you to allow the accessory or its driver; then plug it in again`
    default:
      return 'Ask who administers this computer for the right to use serial ports'
  }
}
