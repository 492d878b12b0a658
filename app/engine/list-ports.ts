import type { Machine } from './machine.ts'

export interface ListedPorts {
  readonly midiIn: string[]
  readonly midiOut: string[]
  readonly serial: string[]
  /** What could not be listed, and what to do. */
  readonly trouble: string[]
}

/** The ports there are; what cannot be listed is said and hides nothing else. */
export async function listPorts({ midiIn, midiOut, serial }: Machine): Promise<ListedPorts> {
  const trouble: string[] = []
  const note = (error: unknown): string[] => {
    const message = error instanceof Error ? error.message : String(error)
    if (!trouble.includes(message)) trouble.push(message)
    return []
  }
  const tried = (list: () => readonly string[]): string[] => {
    try {
      return [...list()]
    } catch (error) {
      return note(error)
    }
  }
  const serialPorts = await serial
    .list()
    .then(
      (ports) => ports.map(({ path, manufacturer }) => (manufacturer ? `${path} (${manufacturer})` : path)),
      note,
    )
  return {
    midiIn: tried(() => midiIn.inputs()),
    midiOut: tried(() => midiOut.outputs()),
    serial: serialPorts,
    trouble,
  }
}
