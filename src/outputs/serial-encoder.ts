import type { LampIndex } from '../domain/ids.ts'
import type { SerialOutput } from '../domain/rig.ts'
import type { Stage } from '../domain/stage.ts'
import { bySlot, changesBySlot, type Places, placesOf } from './changes-by-slot.ts'
import type { EncoderConfig, EncoderEvent, EncoderOut } from './encoder-event.ts'
import { encodeFrame } from './frame-wire.ts'
import { flashOf, isNextFlash, lampSetting } from './lamp-setting.ts'
import { type HostFrame, type LampSetting, MAX_LAMPS_A_SET, SERIAL_VERSION } from './serial-frame.ts'

interface SerialLamp extends LampSetting {
  readonly index: LampIndex
  /** The pulse's flash that it was sent with; null: it is no pulse. */
  readonly flash: number | null
}

export interface SerialEncoderState {
  readonly kind: 'serial'
  readonly output: string
  /** Of the next frame. */
  readonly sequence: number
  /** As last sent, in slot order. */
  readonly lamps: readonly SerialLamp[]
  readonly places: Places
}

type Unnumbered = HostFrame extends infer Frame
  ? Frame extends HostFrame
    ? Omit<Frame, 'sequence'>
    : never
  : never

/**
 * A serial output's lamps as frames, one `bytes` a frame. The changes of one moment leave as one set frame (more where they
 * are over 35), dark lamps first, so that a supply sees the drop before the rise. A lamp that would be sent rate and duty
 * as it was sent them last is left out; a strike alone is nothing to a lamp that is lit already. A pulse's next flash is sent: the box begins it with that frame.
 */
export const serialEncoder: Stage<
  EncoderConfig<SerialOutput>,
  SerialEncoderState,
  EncoderEvent,
  EncoderOut
> = {
  name: 'serial-encoder',

  start({ output, lamps }) {
    const dark = bySlot(lamps).map(({ index, slot }) => ({ index, slot, rate: 0, duty: 0, flash: null }))
    return { kind: 'serial', output: output.id, sequence: 0, lamps: dark, places: placesOf(dark) }
  },

  step(state, event, now) {
    switch (event.kind) {
      case 'open':
        return send(state, [{ type: 'hello', version: SERIAL_VERSION }, ...setFrames(state.lamps)])
      case 'changes': {
        const changed: SerialLamp[] = []
        const lamps = state.lamps.slice()
        for (const { place, state: lampState } of changesBySlot(state.places, event.changes)) {
          const last = lamps[place]
          if (!last) continue
          const flash = flashOf(lampState)
          const next = { ...last, ...lampSetting(state.output, last.slot, lampState), flash }
          if (next.rate === last.rate && next.duty === last.duty && !isNextFlash(flash, last.flash)) continue
          lamps[place] = next
          changed.push(next)
        }
        return send({ ...state, lamps }, setFrames(changed))
      }
      case 'dark-all':
      case 'close': {
        const lamps = state.lamps.map((lamp) => ({ ...lamp, rate: 0, duty: 0, flash: null }))
        return send({ ...state, lamps }, [{ type: 'dark' }])
      }
      case 'beat':
        return send(state, [{ type: 'beat', micros: now % 2 ** 32 }])
    }
  },
}

function setFrames(lamps: readonly SerialLamp[]): Unnumbered[] {
  const ordered = [...lamps.filter((lamp) => lamp.rate === 0), ...lamps.filter((lamp) => lamp.rate !== 0)]
  const settings = ordered.map(({ slot, rate, duty }): LampSetting => ({ slot, rate, duty }))
  const frames = Math.ceil(settings.length / MAX_LAMPS_A_SET)
  return Array.from({ length: frames }, (_, frame) => {
    const from = frame * MAX_LAMPS_A_SET
    return { type: 'set', at: 0, lamps: settings.slice(from, from + MAX_LAMPS_A_SET) }
  })
}

function send(state: SerialEncoderState, frames: readonly Unnumbered[]) {
  const out = frames.map((frame, count): EncoderOut => {
    const sequence = (state.sequence + count) % 256
    return { kind: 'bytes', bytes: encodeFrame({ ...frame, sequence }) }
  })
  return { state: { ...state, sequence: (state.sequence + frames.length) % 256 }, out }
}
