import { spawn } from 'node:child_process'
import { mkdirSync, readdirSync, utimesSync, writeFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { WorkFolder } from '../../../../../app/engine/host/unsaved/work-folder.ts'
import { FakeTimers } from '../../../../support/fake-engine.ts'
import { scratchFolder } from '../../../../support/scratch.ts'

function setUp() {
  const state = scratchFolder()
  const unsaved = join(state, 'unsaved')
  const folder = (timers = new FakeTimers()): WorkFolder => new WorkFolder(state, timers)
  const say = (owner: string, pid: number | string): void => {
    mkdirSync(unsaved, { recursive: true })
    writeFileSync(join(unsaved, `${owner}.alive`), `${pid}\n`)
  }
  const journal = (name: string): void => {
    mkdirSync(unsaved, { recursive: true })
    writeFileSync(join(unsaved, name), 'x')
  }
  return { state, unsaved, folder, say, journal }
}

/** A process that lives as long as the test. */
function living(): number {
  const child = spawn('sleep', ['60'])
  onTestFinished(() => void child.kill())
  if (child.pid === undefined) throw new Error('no process')
  return child.pid
}

test('journals of processes that live are theirs; of those that ended, anybody’s', async () => {
  const { folder, say, journal, unsaved } = setUp()
  const own = folder()
  await own.begin()
  say('lives', living())
  say('ended', 2 ** 30)
  say('odd', 'none')
  for (const name of ['lives.1.journal', 'ended.1.journal', 'odd.1.journal', 'silent.1.journal', 'notes.txt'])
    journal(name)
  const first = own.nextJournal()
  journal(basename(own.nextJournal()))
  journal(basename(first))
  const found = (await own.journals(first)).map((path) => basename(path)).sort()
  expect(found).toEqual(
    ['ended.1.journal', `${own.owner}.2.journal`, 'odd.1.journal', 'silent.1.journal'].sort(),
  )
  expect(own.isAliveElsewhere('lives')).toBe(true)
  expect(own.isAliveElsewhere(own.owner)).toBe(false)
  await own.tidy()
  expect(readdirSync(unsaved).filter((name) => name.endsWith('.alive'))).toEqual(
    ['lives.alive', `${own.owner}.alive`].sort(),
  )
})

test('a number that another program has by now does not keep work from anybody', async () => {
  const { folder, say, journal, unsaved } = setUp()
  say('before', living())
  journal('before.1.journal')
  const long = new Date(Date.now() - 120_000)
  utimesSync(join(unsaved, 'before.alive'), long, long)
  const own = folder()
  await own.begin()
  expect(await own.journals(undefined)).toHaveLength(1)
})

test('a process says again and again that it lives, and no more when it ends', async () => {
  const { folder, unsaved } = setUp()
  const timers = new FakeTimers()
  const [own, other] = [folder(timers), folder()]
  await own.begin()
  const path = join(unsaved, `${own.owner}.alive`)
  const long = new Date(Date.now() - 120_000)
  utimesSync(path, long, long)
  expect(other.isAliveElsewhere(own.owner)).toBe(false)
  timers.move(5_000)
  await expect.poll(() => other.isAliveElsewhere(own.owner)).toBe(true)
  await own.end()
  expect(readdirSync(unsaved)).toEqual([])
})

test('of what was thrown away the last twenty can be had by hand', async () => {
  const { folder, journal, state, unsaved } = setUp()
  const own = folder()
  for (let count = 0; count < 23; count++) {
    journal(`x.${count}.journal`)
    await own.drop(join(unsaved, `x.${count}.journal`))
  }
  const names = readdirSync(join(state, 'dropped')).map((name) => name.split('.')[1])
  expect(names).toHaveLength(20)
  expect(names).not.toContain('2')
  expect(names).toContain('22')
})

test('two processes never have a journal of one name', () => {
  const { folder } = setUp()
  const names = Array.from({ length: 50 }, () => folder()).flatMap((one) => [
    one.nextJournal(),
    one.nextJournal(),
  ])
  expect(new Set(names).size).toBe(100)
})
