import { listPorts } from '../engine/list-ports.ts'
import { realMachine } from '../engine/machine.ts'

/** `lanthorn ports`: the MIDI and serial ports there are. */
export async function portsCommand({ json }: { readonly json?: boolean }): Promise<void> {
  const machine = realMachine()
  const ports = await listPorts(machine)
  machine.midiIn.close()
  if (json) {
    process.stdout.write(`${JSON.stringify(ports)}\n`)
    return
  }
  const lines = [
    ...section('MIDI inputs', ports.midiIn),
    ...section('MIDI outputs', ports.midiOut),
    ...section('Serial ports', ports.serial),
    ...ports.trouble.map((text) => `! ${text}`),
  ]
  process.stdout.write(`${lines.join('\n')}\n`)
}

function section(title: string, names: readonly string[]): string[] {
  return [title, ...(names.length === 0 ? ['  none'] : names.map((name) => `  ${name}`))]
}
