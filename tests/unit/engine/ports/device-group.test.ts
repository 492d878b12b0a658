import { chownSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { deviceGroup } from '../../../../app/engine/ports/device-group.ts'

test('the group of a device by its name; nothing where there is no device', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'lanthorn-group-'))
  const device = join(folder, 'ttyUSB0')
  writeFileSync(device, '')
  try {
    const own = process.getgid?.() ?? 0
    // As root any group can be given; else the file has our own.
    const gid =
      process.getuid?.() === 0
        ? Number(readFileSync('/etc/group', 'utf8').match(/^dialout:[^:]*:(\d+)/m)?.[1] ?? own)
        : own
    if (gid !== own) chownSync(device, process.getuid?.() ?? -1, gid)
    const name = readFileSync('/etc/group', 'utf8').match(new RegExp(`^([^:]+):[^:]*:${gid}:`, 'm'))?.[1]
    expect(await deviceGroup(device)).toBe(gid === 0 ? undefined : name)
    expect(await deviceGroup(join(folder, 'absent'))).toBeUndefined()
  } finally {
    rmSync(folder, { recursive: true })
  }
})
