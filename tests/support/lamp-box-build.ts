import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'

const FIRMWARE = resolve(import.meta.dirname, '../../assets/firmware')
const SIMULATOR = resolve(import.meta.dirname, 'simavr')

export interface LampBoxBuild {
  /** The firmware image for an ATmega2560. */
  readonly elf: string
  /** Runs it: see tests/support/simavr/lamp-box-sim.c. */
  readonly simulator: string
  /** The portable codec for this machine: reads lines of vectors on standard input. */
  readonly vectorsTest: string
}

/**
 * Firmware, simulator and host test, built once for their sources into a folder of the system's temporary ones. Throws,
 * with what to install, where a tool is missing.
 */
export function buildLampBox(): LampBoxBuild {
  const folder = join(tmpdir(), `lanthorn-lamp-box-${sourcesHash()}`)
  if (!existsSync(folder)) {
    const fresh = mkdtempSync(join(tmpdir(), 'lanthorn-lamp-box-building-'))
    run('make', ['-s', '-C', FIRMWARE, `BUILD=${fresh}`, 'all', `${fresh}/vectors-test`])
    const sources = ['lamp-box-sim.c', 'timer16.c', 'usart0.c'].map((name) => join(SIMULATOR, name))
    const warnings = ['-Wall', '-Wextra', '-Werror', '-Wno-unused-parameter']
    run('gcc', [
      '-std=gnu11',
      '-O2',
      ...warnings,
      ...sources,
      '-o',
      `${fresh}/lamp-box-sim`,
      '-lsimavr',
      '-lelf',
    ])
    // Another test's process may have been quicker; its build is the same.
    try {
      renameSync(fresh, folder)
    } catch (error) {
      rmSync(fresh, { recursive: true, force: true })
      if (!existsSync(folder)) throw error
    }
  }
  return {
    elf: join(folder, 'lamp-box.elf'),
    simulator: join(folder, 'lamp-box-sim'),
    vectorsTest: join(folder, 'vectors-test'),
  }
}

function sourcesHash(): string {
  const hash = createHash('sha256')
  for (const folder of [FIRMWARE, join(FIRMWARE, 'test'), SIMULATOR]) {
    for (const name of readdirSync(folder).sort()) {
      if (!/\.[ch]$|^Makefile$/.test(name)) continue
      hash
        .update(`${name}\0`)
        .update(readFileSync(join(folder, name)))
        .update('\0')
    }
  }
  return hash.digest('hex').slice(0, 16)
}

function run(command: string, words: string[]): void {
  const { status, stdout, stderr, error } = spawnSync(command, words, { encoding: 'utf8' })
  if (status === 0) return
  const why = error?.message ?? `${stdout}${stderr}`.slice(0, 3000)
  throw new Error(
    `${command} could not build the lamp box (Debian: apt-get install make gcc gcc-avr avr-libc libsimavr-dev libelf-dev):\n${why}`,
  )
}
