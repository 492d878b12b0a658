import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { BROKEN_SHOWS } from '../../../support/broken-shows.ts'
import { HostRun, retitle } from '../../../support/host-run.ts'

/** The first forty, and what no text can hold. */
const FILES: readonly (readonly [string, Uint8Array])[] = [
  ...BROKEN_SHOWS.slice(0, 40).map(([name, text]) => [name, Buffer.from(text)] as const),
  ['bytes that are no UTF-8', Buffer.of(0x7b, 0xff, 0xfe, 0x7d)],
  [
    'a newer version with fields that nobody knows',
    Buffer.from('{"format":"lanthorn-show","version":2,"new":[]}'),
  ],
  ['a file of 200 kB of zero bytes', Buffer.alloc(200_000)],
  ['a program', readFileSync(process.execPath).subarray(0, 4096)],
]

test.each(FILES)('%s never blocks the start, and is left as it is', async (_, bytes) => {
  const run = new HostRun()
  const path = join(run.folder, 'show.json')
  writeFileSync(path, bytes)
  const trouble = await run.host.begin({ show: path })
  // What, where and what to do.
  expect(trouble).toContain(path)
  expect(trouble).toMatch(/: .{10,}/)
  run.play()
  const screen = run.screen()
  expect(
    screen.of('diagnostic').map(({ diagnostic }) => [diagnostic.level, diagnostic.message]),
  ).toContainEqual(['fault', trouble])
  expect(screen.last('show')).toMatchObject({ isDemo: true, file: null })
  retitle(screen, 'Works')
  expect(screen.last('show').show.title).toBe('Works')
  // A window, whose dialog has asked.
  screen.ask({ type: 'save', path })
  expect((await screen.next('failed')).message).toContain('left alone')
  screen.ask({ type: 'open-file', path })
  expect((await screen.next('failed')).message).toContain(path)
  expect(screen.last('show').show.title).toBe('Works')
  screen.ask({ type: 'save', path: join(run.folder, 'elsewhere.json') })
  await screen.next('saved')
  await run.end()
  expect(readFileSync(path).equals(bytes)).toBe(true)
})
