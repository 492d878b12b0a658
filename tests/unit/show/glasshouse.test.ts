import { readFileSync, writeFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { lampAmps } from '../../../src/domain/rig.ts'
import { readMidiFile } from '../../../src/midi/file-read.ts'
import { checkShow } from '../../../src/offline/check-show.ts'
import { parseShow } from '../../../src/show/parse-show.ts'
import { strategies } from '../../../src/strategies/registry.ts'
import { DEMO_SHOW, DEMO_TAKE, demoShow } from '../../support/demo.ts'
import { glasshouseTake } from '../../support/glasshouse-take.ts'

function sorted(ids: Iterable<string>): string[] {
  return [...new Set(ids)].sort()
}

describe('the demo show', () => {
  test('parses without faults or notes', () => {
    const parsed = parseShow(readFileSync(DEMO_SHOW, 'utf8'), strategies)
    expect(parsed).toMatchObject({ ok: true, notes: [] })
  })

  test('uses every strategy there is', () => {
    const kinds = demoShow().songs.flatMap(({ parts }) => parts.map(({ strategy }) => strategy.kind))
    expect(new Set(kinds)).toEqual(new Set(strategies.map(({ kind }) => kind)))
  })

  test('uses every lamp, player, tuning and song', () => {
    const { rig, players, tunings, songs, setList } = demoShow()
    const parts = songs.flatMap((song) => song.parts)
    expect(sorted(parts.flatMap(({ lamps }) => lamps))).toEqual(sorted(rig.lamps.map(({ id }) => id)))
    expect(sorted(parts.map(({ player }) => player))).toEqual(sorted(players.map(({ id }) => id)))
    expect(sorted(songs.map(({ tuning }) => tuning))).toEqual(sorted(tunings.map(({ id }) => id)))
    const variants = songs.filter(({ variantOf }) => variantOf !== undefined)
    expect(sorted([...setList, ...variants.map(({ id }) => id)])).toEqual(sorted(songs.map(({ id }) => id)))
  })

  test('says of every song how long it is and something to its players, and every player but one changes songs', () => {
    const { songs, players, switching } = demoShow()
    expect(songs.filter(({ minutes, notes }) => minutes === undefined || notes === '')).toEqual([])
    expect(songs.filter(({ variantOf }) => variantOf !== undefined)).toHaveLength(1)
    const changing = new Set(switching.controls.map(({ player }) => player))
    expect(players.filter(({ id }) => !changing.has(id)).map(({ id }) => id)).toEqual(['bass'])
  })

  test('has no control that its take plays, and none that a part would have played', () => {
    const result = readMidiFile(Uint8Array.from(readFileSync(DEMO_TAKE)))
    if (!result.ok) throw new Error(result.error.what)
    const played = result.file.tracks.flatMap(({ name, events }) =>
      events.map(({ message }) => {
        if (message.type === 'note-on') return `${name} note ${message.key}`
        if (message.type === 'controller') return `${name} controller ${message.controller}`
        return `${name} ${message.type}`
      }),
    )
    expect(played).toContain('keys controller 74')
    const controls = demoShow().switching.controls.map(({ player, on }) => {
      if (on.kind === 'note') return `${player} note ${on.key}`
      return on.kind === 'controller' ? `${player} controller ${on.controller}` : `${player} program`
    })
    expect(controls.filter((control) => played.includes(control))).toEqual([])
    expect(checkShow(demoShow()).filter(({ path }) => path?.[0] === 'switching')).toEqual([])
  })

  // A part may light all its lamps at once, and between them the parts of a song have every lamp.
  test('can light every lamp at once within its supply', () => {
    for (const supply of demoShow().rig.supplies) {
      const lamps = demoShow().rig.lamps.filter((lamp) => lamp.supply === supply.id)
      const amps = lamps.reduce((sum, lamp) => sum + lampAmps(lamp, supply), 0)
      expect(amps).toBeLessThanOrEqual(supply.maxAmps * supply.usable)
    }
  })
})

describe('the demo take', () => {
  /** `UPDATE=1 npx vitest run --config tests/vitest.config.ts tests/unit/show/glasshouse.test.ts` writes it anew. */
  test('is what its program makes, byte for byte', () => {
    const made = glasshouseTake()
    if (process.env.UPDATE === '1') writeFileSync(DEMO_TAKE, made)
    expect(Uint8Array.from(readFileSync(DEMO_TAKE))).toEqual(made)
  })

  test('reads back without warnings: a track a player, every message as written', () => {
    const result = readMidiFile(Uint8Array.from(readFileSync(DEMO_TAKE)))
    if (!result.ok) throw new Error(result.error.what)
    const { format, tracks, warnings, endsAt } = result.file
    expect(warnings).toEqual([])
    expect(format).toBe(1)
    expect(tracks.map(({ name }) => name)).toEqual(demoShow().players.map(({ id }) => id))
    expect(endsAt / 1e6).toBeGreaterThan(60)
    expect(endsAt / 1e6).toBeLessThan(90)
    for (const track of tracks) {
      const count = (type: string) => track.events.filter(({ message }) => message.type === type).length
      expect(count('note-on')).toBeGreaterThan(80)
      expect(count('note-off')).toBe(count('note-on'))
    }
  })

  test('starts at the tempo of the first song, to the microsecond a file can say', () => {
    const result = readMidiFile(glasshouseTake())
    const [song] = demoShow().songs
    expect(result.ok && result.file.tempos).toMatchObject([
      { at: 0, microsPerBeat: Math.round(60_000_000 / (song?.tempo ?? 0)) },
    ])
  })
})
