import { readFile, stat } from 'node:fs/promises'

/** The name of the group that owns a device; undefined where that cannot be found out. */
export async function deviceGroup(path: string): Promise<string | undefined> {
  try {
    const { gid } = await stat(path)
    // A device of the group root is no port that one joins a group for.
    if (gid === 0) return undefined
    const lines = (await readFile('/etc/group', 'utf8')).split('\n')
    return lines.map((line) => line.split(':')).find((fields) => fields[2] === String(gid))?.[0]
  } catch {
    return undefined
  }
}
