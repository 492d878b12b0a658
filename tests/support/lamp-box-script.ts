import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { encodeFrame } from '../../src/outputs/frame-wire.ts'
import { SERIAL_DECODER_DEFAULTS, serialDecoder } from '../../src/outputs/serial-decoder.ts'
import type { BoxFrame, HostFrame, LampSetting } from '../../src/outputs/serial-frame.ts'
import { toHex } from './hex.ts'
import { buildLampBox } from './lamp-box-build.ts'
import type { Cycles } from './pin-edges.ts'
import { emptyLog, readSimulatorLine, type SimulatorLog } from './simulator-lines.ts'

/** By then the firmware has started and listens. */
export const AWAKE: Cycles = 100_000

export type ScriptStep =
  /** Bytes that begin at that cycle, or as soon as the line is free. */
  | { readonly at: Cycles; readonly send: Uint8Array | HostFrame | readonly HostFrame[] }
  /** The CPU goes round in one place from now on. */
  | { readonly at: Cycles; readonly hang: true }
  /** The reset pin is pulled low for a moment; power is lost, and is back. Between those two what is sent is lost. */
  | { readonly at: Cycles; readonly line: 'reset' | 'off' | 'on' }
  /** Sets a 32-bit variable of the firmware. */
  | { readonly at: Cycles; readonly poke: string; readonly value: number }
  | { readonly at: Cycles; readonly end: true }

export interface ScriptRun extends SimulatorLog {
  /** What the firmware answered, with the cycle its last byte had gone out. Throws at a damaged frame. */
  readonly answers: { frame: BoxFrame; cycle: Cycles }[]
}

/** Runs the firmware in simulated time alone: the same each time. Steps in order of time, the last an `end`. */
export function runLampBox(steps: readonly ScriptStep[], ...options: string[]): ScriptRun {
  const { elf, simulator } = buildLampBox()
  const folder = mkdtempSync(join(tmpdir(), 'lanthorn-script-'))
  try {
    const script = join(folder, 'script')
    writeFileSync(script, steps.map((step) => `${Math.round(step.at)} ${words(step)}\n`).join(''))
    const { status, stdout, stderr } = spawnSync(
      simulator,
      [elf, '--bytes', '--script', script, ...options],
      { encoding: 'utf8', maxBuffer: 1 << 30 },
    )
    if (status !== 0) throw new Error(`the simulator ended with ${status}: ${stderr}`)
    const log = emptyLog()
    for (const line of stdout.split('\n')) readSimulatorLine(log, line)
    return { ...log, answers: answersIn(log) }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

function words(step: ScriptStep): string {
  if ('hang' in step) return 'hang'
  if ('line' in step) return step.line
  if ('poke' in step) return `poke ${step.poke} ${step.value}`
  if ('end' in step) return 'end'
  if (step.send instanceof Uint8Array) return `send ${toHex(step.send)}`
  const frames = 'type' in step.send ? [step.send] : step.send
  return `send ${frames.map((frame) => toHex(encodeFrame(frame))).join('')}`
}

function answersIn(log: SimulatorLog): { frame: BoxFrame; cycle: Cycles }[] {
  let state = serialDecoder.start(SERIAL_DECODER_DEFAULTS)
  return log.sent.flatMap(({ byte, cycle }) => {
    const step = serialDecoder.step(state, { kind: 'bytes', bytes: Uint8Array.of(byte) }, 0)
    state = step.state
    return step.out.map((one) => {
      if (one.kind === 'damaged') throw new Error(`the firmware sent a damaged frame (${one.damage})`)
      if (one.frame.type !== 'identity' && one.frame.type !== 'reply')
        throw new Error(`the firmware sent ${one.frame.type}`)
      return { frame: one.frame, cycle }
    })
  })
}

/** A set frame for now (or box microseconds `at`). */
export function setFrame(sequence: number, lamps: readonly LampSetting[], at = 0): HostFrame {
  return { type: 'set', sequence, at, lamps }
}

/** A setting in Hz and a duty of 0 to 1. */
export function lamp(slot: number, hz: number, duty = 0.5): LampSetting {
  return { slot, rate: Math.round(hz * 65536), duty: Math.round(duty * 65535) }
}

/** Statuses of the replies, in order. */
export function statuses(run: ScriptRun): string[] {
  return run.answers.flatMap(({ frame }) => (frame.type === 'reply' ? [frame.status] : []))
}
