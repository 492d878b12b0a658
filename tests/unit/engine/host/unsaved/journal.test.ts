import { existsSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs'
import type { FileHandle } from 'node:fs/promises'
import { open } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { expect, onTestFinished, test, vi } from 'vitest'
import { readJournal } from '../../../../../app/engine/host/unsaved/journal-file.ts'
import { Journal } from '../../../../../app/engine/host/unsaved/journal.ts'
import { eventually } from '../../../../support/eventually.ts'
import { FakeTimers } from '../../../../support/fake-engine.ts'
import { scratchFolder } from '../../../../support/scratch.ts'

const base = { file: '/shows/tide.json', stamps: ['abc'] }

function setUp() {
  const path = join(scratchFolder(), 'unsaved', 'a.1.journal')
  const timers = new FakeTimers()
  const kept: number[] = []
  const troubles: (string | null)[] = []
  const journal = new Journal({
    path,
    timers,
    kept: (revision) => kept.push(revision),
    trouble: (message) => troubles.push(message),
  })
  onTestFinished(() => journal.close())
  const note = (text: string, revision: number): void => journal.note({ base, text, revision })
  const found = () => readJournal(readFileSync(path))
  return { path, timers, kept, troubles, journal, note, found }
}

test('the first work is kept at once, what follows is written at once and made lasting every 250 ms', async () => {
  const { timers, kept, note, found, path } = setUp()
  note('one', 1)
  await eventually(() => kept.includes(1))
  expect(statSync(path).mode & 0o777).toBe(0o600)
  for (let revision = 2; revision < 20; revision++) {
    note(`one ${revision}`, revision)
    await eventually(() => {
      const read = found()
      return read.state === 'read' && read.work.revision === revision
    })
  }
  expect(kept).toEqual([1])
  timers.move(250)
  await eventually(() => kept.length > 1)
  expect(kept).toEqual([1, 19])
  expect(found()).toMatchObject({ work: { base, text: 'one 19', revision: 19 } })
})

test('asked to, it makes all of it lasting without waiting', async () => {
  const { kept, note, journal } = setUp()
  note('one', 1)
  note('two', 2)
  await journal.flush()
  note('three', 3)
  note('four', 4)
  await journal.flush()
  expect(kept.at(-1)).toBe(4)
})

test('work that comes faster than the disk takes it is kept all the same, and waited for no longer than asked', async () => {
  const { timers, kept, journal, note } = setUp()
  let revision = 0
  let isOver = false
  onTestFinished(() => void (isOver = true))
  const storm = (): void => {
    note(`one ${++revision}`, revision)
    timers.move(10)
    if (!isOver) setImmediate(storm)
  }
  storm()
  await eventually(() => kept.length > 5)
  const upTo = revision
  await journal.flush()
  expect(kept.at(-1)).toBeGreaterThanOrEqual(upTo)
})

test('many changes give way to the whole text', async () => {
  const { journal, note, found, path } = setUp()
  const long = 'x'.repeat(200_000)
  for (let revision = 1; revision <= 12; revision++) {
    note(`${revision}${long}${revision}`, revision)
    await journal.flush()
  }
  expect(statSync(path).size).toBeLessThan(8 * 200_000 + 400_000)
  expect(found()).toMatchObject({ work: { revision: 12, text: `12${long}12` } })
})

test('where nothing is unsaved any more there is no file', async () => {
  const { journal, note, path, kept } = setUp()
  note('one', 1)
  await journal.flush()
  journal.clear()
  await journal.flush()
  expect(readdirSync(dirname(path))).toEqual([])
  note('two', 2)
  await journal.close()
  expect(kept).toEqual([1, 2])
  expect(existsSync(path)).toBe(true)
  note('three', 3)
  await journal.flush()
  expect(kept).toEqual([1, 2])
})

test('a journal that somebody took away is begun anew with the next work', async () => {
  const { path, journal, note, found } = setUp()
  note('one', 1)
  await journal.flush()
  renameSync(path, `${path}.taken`)
  note('two', 2)
  await journal.flush()
  expect(found()).toMatchObject({ work: { text: 'two', revision: 2 } })
})

test('a disk that does not take it is told once, and given all when it does', async () => {
  const { path, timers, journal, note, kept, troubles, found } = setUp()
  // A file where the folder should be: nobody may write there, not even root.
  const folder = dirname(path)
  writeFileSync(folder, '')
  note('one', 1)
  await journal.flush()
  note('two', 2)
  await journal.flush()
  expect(kept).toEqual([])
  expect(troubles).toEqual([expect.stringMatching(/\w/)])
  rmSync(folder)
  timers.move(5_000)
  await eventually(() => troubles.length === 2)
  expect(troubles[1]).toBeNull()
  expect(found()).toMatchObject({ work: { text: 'two', revision: 2 } })
})

test('a disk that is full in the middle of a record leaves nothing in the way of what comes after', async () => {
  const { path, timers, journal, note, troubles, kept, found } = setUp()
  note('one', 1)
  await journal.flush()
  const handle = await open(path)
  const handles = Object.getPrototypeOf(handle) as FileHandle
  await handle.close()
  const full = vi.spyOn(handles, 'appendFile').mockImplementationOnce(async function (
    this: FileHandle,
    bytes,
  ) {
    await this.write((bytes as Uint8Array).subarray(0, 20))
    throw Object.assign(new Error('ENOSPC: no space left on device, write'), { code: 'ENOSPC' })
  })
  onTestFinished(() => full.mockRestore())
  note('two', 2)
  await journal.flush()
  expect(troubles).toEqual(['the disk is full; make room and try again'])
  // What was kept before can still be had.
  expect(found()).toMatchObject({ work: { text: 'one' } })
  timers.move(5_000)
  await eventually(() => kept.includes(2))
  note('three', 3)
  await journal.flush()
  expect(found()).toMatchObject({ work: { text: 'three' } })
  expect(troubles.at(-1)).toBeNull()
})
