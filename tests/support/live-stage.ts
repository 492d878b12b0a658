import { onTestFinished } from 'vitest'
import type { NativeOutput } from '../../app/engine/ports/midi-module.ts'
import { eventually } from './eventually.ts'
import { connected } from './jack-midi.ts'
import type { JackMidi } from './jack-midi.ts'
import type { RunningLampBox } from './lamp-box-firmware.ts'
import { startLampBox } from './lamp-box-firmware.ts'
import { liveShow } from './live-band.ts'
import { edgesOf, pulsesOf } from './pin-edges.ts'
import type { PlayProcess } from './play-process.ts'
import { startPlaying } from './play-process.ts'

export interface LiveStage {
  readonly box: RunningLampBox
  readonly play: PlayProcess
  readonly keys: NativeOutput
  readonly bass: NativeOutput
}

/** A player's instrument, as another program's virtual port; gone when the test is over. */
export function instrument(jack: JackMidi, name: string): NativeOutput {
  const port = new (jack.load().Output)()
  port.openVirtualPort(name)
  onTestFinished(() => port.destroy())
  return port
}

/** Bytes into a real MIDI port, the built command, a pty, the firmware image in the simulator: nothing stands in for anything. */
export async function onStage(jack: JackMidi): Promise<LiveStage> {
  const box = await startLampBox()
  onTestFinished(() => box.stop())
  const keys = instrument(jack, 'Keybed')
  const bass = instrument(jack, 'Bass')
  const play = await startPlaying(liveShow(box.pty), jack.env)
  onTestFinished(async () => void (await play.interrupt()))
  await eventually(() => play.portState('keys') === 'open' && play.portState('bass') === 'open', 5_000)
  await eventually(() => play.portState('wire') === 'ready', 10_000)
  await connected()
  return { box, play, keys, bass }
}

/** The cycle of the last edge there is. */
export function lastCycle(box: RunningLampBox): number {
  return box.pins().at(-1)?.cycle ?? 0
}

export function isFlashing(box: RunningLampBox, slot: number, since: number): boolean {
  return pulsesOf(box.pins(), slot, since).length >= 3
}

/** No edge for 100 ms of the wall clock: longer than any period played here. */
export class Quiet {
  readonly #box: RunningLampBox
  readonly #seen = new Map<number, { count: number; since: number }>()

  constructor(box: RunningLampBox) {
    this.#box = box
  }

  is(slot: number): boolean {
    const count = edgesOf(this.#box.pins(), slot).length
    const seen = this.#seen.get(slot)
    if (seen?.count === count) return performance.now() - seen.since > 100
    this.#seen.set(slot, { count, since: performance.now() })
    return false
  }
}

export const on = (key: number): Buffer => Buffer.of(0x90, key, 100)
export const off = (key: number): Buffer => Buffer.of(0x80, key, 64)
