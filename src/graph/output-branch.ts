import { Subject } from 'rxjs'
import type { MidiMessage } from '../domain/midi-message.ts'
import type { Output } from '../domain/rig.ts'
import { encode } from '../midi/encode.ts'
import type { EncoderEvent, OutputLamp } from '../outputs/encoder-event.ts'
import { encoderFor } from '../outputs/encoder.ts'
import type { House } from './house.ts'
import { lift } from './lift.ts'

/** An output's way from lamp changes to bytes. */
export interface OutputBranch {
  readonly events: Subject<EncoderEvent>
  /** A message that goes past the lamps. */
  readonly thru: (message: MidiMessage) => void
}

export function outputBranch(output: Output, lamps: readonly OutputLamp[], house: House): OutputBranch {
  const events = new Subject<EncoderEvent>()
  const name = `output ${output.id}`
  const send = (message: MidiMessage): void => {
    const at = house.agenda.now
    house.tap({ kind: 'bytes', at, output: output.id, bytes: Uint8Array.from(encode(message)), message })
  }
  const encoder = lift(name, encoderFor(output), { output, lamps }, house.agenda, (error, event) => {
    house.fault(name, error)
    if (event.kind !== 'dark-all') house.agenda.post(() => events.next({ kind: 'dark-all' }))
  })
  house.own(
    events.pipe(encoder.operator()).subscribe((out) => {
      if (out.kind === 'message') send(out.message)
      else house.tap({ kind: 'bytes', at: house.agenda.now, output: output.id, bytes: out.bytes })
    }),
  )
  return { events, thru: send }
}
