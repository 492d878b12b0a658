import { setTimeout as pause } from 'node:timers/promises'
import { expect, test } from 'vitest'
import { readMidiFile } from '../../../src/midi/file-read.ts'
import { encode } from '../../../src/midi/encode.ts'
import { gigNotes, gigShow, songsExpected, takeBytes } from '../../support/six-songs.ts'
import { liveHouse, litOf, SOON } from '../../support/live-house.ts'

const END_MS = 10_500

const house = liveHouse()

test(
  'a gig of six songs played through from a take, changed by pedal: the Stage shows the right song in the middle of each, and every note lights the lamp of its song',
  // Its 18 notes are a quarter of a second each: on a machine with much to do one is missed by who looks thirty times a second.
  { retry: 3 },
  async () => {
    const keys = house.instrument('Keybed')
    const { page, caller } = await house.open(gigShow(), ['keys'])

    const songs = songsExpected()
    const titles = new Map(
      (gigShow()['songs'] as { id: string; title: string }[]).map(({ id, title }) => [id, title]),
    )
    const seen: Promise<readonly [string, string]>[] = []
    const began = performance.now()
    const at = async (ms: number): Promise<void> =>
      void (await pause(Math.max(0, ms - (performance.now() - began))))
    const looking = songs.map(async ({ atMicros, song }, place) => {
      const until = songs[place + 1]?.atMicros ?? END_MS * 1000
      await at((atMicros + until) / 2000)
      seen.push(
        page
          .getByRole('heading', { level: 1 })
          .innerText()
          .then((words) => [song, words] as const),
      )
    })
    const take = readMidiFile(takeBytes())
    if (!take.ok) throw new Error(take.error.what)
    for (const { at: micros, message } of take.file.tracks.flatMap(({ events }) => events)) {
      await at(micros / 1000)
      keys.sendMessage(Buffer.from(encode(message)))
    }
    await Promise.all(looking)

    for (const [song, words] of await Promise.all(seen)) expect(words).toContain(titles.get(song))
    expect(caller.of('song').map(({ song, position }) => [song, position])).toEqual(
      songs.slice(1).map(({ song }, place) => [song, place + 1]),
    )
    // Some lamps list each: what was lit, in the order it was first seen.
    const lit = new Set(
      caller
        .of('lamps')
        .flatMap(({ lamps }) => lamps.filter(({ on }) => on).map(({ lamp, key }) => `${lamp} ${key}`)),
    )
    for (const { lamp, key } of gigNotes()) expect([...lit]).toContain(`${lamp} ${key}`)
    await expect.poll(() => litOf(caller), SOON).toEqual([])
  },
)
