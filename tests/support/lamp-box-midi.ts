import { appendFileSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { MIDI_MODULE_VARIABLE } from '../../app/engine/ports/midi-module.ts'
import { scratchFolder } from './scratch.ts'

interface Heard {
  /** Milliseconds, as Date.now() has them. */
  readonly at: number
  readonly hex: string
}

/** A keyboard and a lamp box at MIDI ports that are files (tests/support/lamp-box-midi.cjs), for programs that are started with `env`. */
export class MidiLamps {
  readonly #folder = scratchFolder()
  readonly env = {
    [MIDI_MODULE_VARIABLE]: resolve(import.meta.dirname, 'lamp-box-midi.cjs'),
    LANTHORN_TEST_MIDI: this.#folder,
  }
  readonly #keys: string
  readonly #box: string
  readonly #away = join(this.#folder, 'pulled')

  constructor(keys: string, box: string) {
    mkdirSync(join(this.#folder, 'in'))
    mkdirSync(join(this.#folder, 'out'))
    this.#keys = join(this.#folder, 'in', keys)
    this.#box = join(this.#folder, 'out', box)
    for (const path of [this.#keys, this.#box]) writeFileSync(path, '')
  }

  /** The keyboard's bytes. */
  play(...bytes: number[]): void {
    appendFileSync(this.#keys, `${Buffer.from(bytes).toString('hex')}\n`)
  }

  /** The box's cable. What it has heard and what it has lit it keeps. */
  pull(): void {
    renameSync(this.#box, this.#away)
  }

  plug(): void {
    renameSync(this.#away, this.#box)
  }

  /** What has come to the box. */
  get heard(): Heard[] {
    return textOf(this.#box, this.#away)
      .split('\n')
      .slice(0, -1)
      .map((line) => {
        const [at, hex = ''] = line.split(' ')
        return { at: Number(at), hex }
      })
  }

  /**
   * Lit now, as `channel key`: note-ons without their note-off, all sound off (CC 120) or all notes off (CC 123) since (MIDI 1.0 Detailed
   * Specification). Such a box goes dark for nothing else.
   */
  get lit(): ReadonlySet<string> {
    const lit = new Set<string>()
    for (const { hex } of this.heard) {
      const [status = 0, first = 0, second = 0] = Buffer.from(hex, 'hex')
      const channel = (status & 15) + 1
      const kind = status >> 4
      if (kind === 0x9 && second > 0) lit.add(`${channel} ${first}`)
      else if (kind === 0x8 || kind === 0x9) lit.delete(`${channel} ${first}`)
      else if (kind === 0xb && (first === 120 || first === 123))
        for (const one of lit) if (one.startsWith(`${channel} `)) lit.delete(one)
    }
    return lit
  }
}

function textOf(...paths: readonly string[]): string {
  for (const path of paths) {
    try {
      return readFileSync(path, 'utf8')
    } catch {
      // Then it lies at the other.
    }
  }
  return ''
}
