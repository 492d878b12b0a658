import type { RemoteDoor } from '../engine/host/entry.ts'

/** Says where other devices find the host and the code that lets one in: once it has begun, and again whenever either is another. */
export function createRemoteLines(say: (line: string) => void): {
  readonly told: (door: RemoteDoor) => void
  readonly begin: () => void
} {
  let door: RemoteDoor | undefined
  let hasBegun = false
  let last = ''
  const tell = (): void => {
    if (!door || !hasBegun) return
    const { addresses, code } = door
    const where =
      addresses.length === 0
        ? 'this machine is on no network'
        : addresses.map((address) => `http://${address}/`).join('  ')
    const line = `Other devices: ${where}\nCode: ${code.slice(0, 3)} ${code.slice(3)}, which lets one in; then there is another.`
    if (line !== last) say(line)
    last = line
  }
  return {
    told: (now) => {
      door = now
      tell()
    },
    begin: () => {
      hasBegun = true
      tell()
    },
  }
}
