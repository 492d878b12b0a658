import { spawnSync } from 'node:child_process'
import { resolve } from 'node:path'
import { expect, test } from 'vitest'
import vectors from '../../assets/firmware/vectors.json' with { type: 'json' }
import { buildLampBox } from '../support/lamp-box-build.ts'

const LINES = resolve(import.meta.dirname, '../../assets/firmware/test/vectors-lines.mjs')

function inC(change: (lines: string) => string = (lines) => lines) {
  const { stdout: lines } = spawnSync(process.execPath, [LINES], { encoding: 'utf8' })
  return spawnSync(buildLampBox().vectorsTest, [], { encoding: 'utf8', input: change(lines) })
}

test('the C codec agrees with every shared vector', () => {
  const { cobs, crc, frames, damaged, timers, duties } = vectors
  const count = [cobs, crc, frames, damaged, timers, duties].reduce((sum, list) => sum + list.length, 0)
  const { status, stdout } = inC()
  expect(stdout).toBe(`${count} right, 0 wrong\n`)
  expect(status).toBe(0)
})

test('a vector that is not so is noticed', () => {
  const { status, stdout } = inC((lines) =>
    lines
      .replace(/^(crc \S+ )\d+/m, '$17')
      .replace(/^(duty \d+ \d+ )(\d+)/m, '$19$2')
      .replace(/^(timer \d+ 1 )(\d+)/m, '$11$2')
      .replace('frame 0301', 'frame 0302'),
  )
  expect(stdout).toContain(' 4 wrong')
  expect(status).toBe(1)
})
