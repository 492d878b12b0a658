import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { onTestFinished } from 'vitest'
import { SERIAL_DECODER_DEFAULTS, serialDecoder } from '../../src/outputs/serial-decoder.ts'
import type { SerialFrame } from '../../src/outputs/serial-frame.ts'
import { eventually } from './eventually.ts'
import { LampBoxCable } from './lamp-box-cable.ts'
import type { RunningLampBox } from './lamp-box-firmware.ts'
import { startLampBox } from './lamp-box-firmware.ts'
import { MidiLamps } from './lamp-box-midi.ts'
import { liveShow } from './live-band.ts'
import { isFlashing, lastCycle } from './live-stage.ts'
import type { Cycles } from './pin-edges.ts'
import { edgesOf, levelAt } from './pin-edges.ts'
import type { PlayProcess } from './play-process.ts'
import { startPlaying } from './play-process.ts'
import { scratchFolder } from './scratch.ts'

/** Cycles of the box in a millisecond. */
export const A_MS: Cycles = 16_000
/** No valid frame for so long: every pin is low (assets/firmware/PROTOCOL.md, Time). */
export const WATCHDOG_MS = 500
export const CHORD = [60, 64, 67]
const SLOTS = [0, 1, 2]

export interface CabledStage {
  readonly box: RunningLampBox
  readonly play: PlayProcess
  readonly midi: MidiLamps
  readonly cable: LampBoxCable
}

/** The firmware image in the simulator, at the far end of a cable that can be pulled, and a show that plays on it. */
export async function cabledBox() {
  const box = await startLampBox()
  onTestFinished(() => box.stop())
  const cable = new LampBoxCable(join(scratchFolder(), 'cable'), box.pty)
  await cable.plug()
  onTestFinished(() => cable.pull())
  return { box, cable, midi: new MidiLamps('Keybed', 'Lamp box'), show: liveShow(cable.host) }
}

/** The command on such a box, and a keyboard. */
export async function onCable(): Promise<CabledStage> {
  const { show, ...stage } = await cabledBox()
  const play = await startPlaying(show, stage.midi.env)
  onTestFinished(async () => void (await play.interrupt()))
  await eventually(() => play.portState('keys') === 'open' && play.portState('wire') === 'ready', 15_000)
  return { ...stage, play }
}

/** Three keys struck and held: three pins flash. */
export async function holdChord({ midi, box }: Pick<CabledStage, 'midi' | 'box'>): Promise<void> {
  const since = lastCycle(box) + 1
  for (const key of CHORD) midi.play(0x80, key, 64)
  for (const key of CHORD) midi.play(0x90, key, 100)
  await eventually(() => SLOTS.every((slot) => isFlashing(box, slot, since)), 5_000)
}

export interface Heard {
  readonly frame: SerialFrame
  /** When its last byte had come in. */
  readonly cycle: Cycles
}

/** The whole frames that the box has received. */
export function framesTo(box: RunningLampBox): Heard[] {
  let state = serialDecoder.start(SERIAL_DECODER_DEFAULTS)
  return box.log().received.flatMap(({ byte, cycle }) => {
    const step = serialDecoder.step(state, { kind: 'bytes', bytes: Uint8Array.of(byte) }, 0)
    state = step.state
    return step.out.flatMap((one) => (one.kind === 'frame' ? [{ frame: one.frame, cycle }] : []))
  })
}

/**
 * When the box had answered the last frame that it took before a cycle: no earlier than it took it. A box that a busy machine held up finds many on its line,
 * and takes some ms for the last.
 */
export function lastAnswer(box: RunningLampBox, until: Cycles): Cycles {
  return box.log().sent.findLast(({ cycle }) => cycle < until)?.cycle ?? 0
}

/** The last edge of any pin between the cycles given. */
export function lastEdge(box: RunningLampBox, from: Cycles = 0, until: Cycles = Infinity): Cycles {
  return Math.max(0, ...SLOTS.map((slot) => edgesOf(box.pins(), slot, from, until).at(-1)?.cycle ?? 0))
}

export function allLow(box: RunningLampBox): boolean {
  return SLOTS.every((slot) => levelAt(box.pins(), slot, Infinity) === 0)
}

/** Waits for so long on the wall clock. */
export function pause(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms))
}

/** Whether that process is there, a zombie being none. */
export function isAlive(pid: number): boolean {
  try {
    return !/^State:\s+Z/m.test(readFileSync(`/proc/${pid}/status`, 'utf8'))
  } catch {
    return false
  }
}
