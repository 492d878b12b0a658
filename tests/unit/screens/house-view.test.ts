import { describe, expect, it } from 'vitest'
import type { HouseView } from '../../../app/screens/controllers/house-view.ts'
import { NOTHING_YET, notRead, said, told } from '../../../app/screens/controllers/house-view.ts'
import type { FromHost } from '../../../src/contract/from-host.ts'
import { fromHost } from '../../../src/contract/from-host.ts'
import { CONTRACT_VERSION } from '../../../src/contract/version.ts'
import { deepFreeze } from '../../support/deep-freeze.ts'
import { demoShow } from '../../support/demo.ts'
import type { HostWord } from '../../support/house-words.ts'
import { guardCounts } from '../../support/guard-counts.ts'
import { houseWords, litLamps } from '../../support/house-words.ts'

/** As the host's message arrives: validated. */
function message(word: HostWord): FromHost {
  return fromHost.parse({ v: CONTRACT_VERSION, ...word })
}

function after(words: readonly HostWord[], from: HouseView = NOTHING_YET): HouseView {
  return words.map(message).reduce((view, word) => told(deepFreeze(view), word), from)
}

const COME_IN = after(houseWords())

describe('the view of the house', () => {
  it('is open and knows show, song, lamps, players and ports after what a newcomer is told', () => {
    expect(COME_IN).toMatchObject({ link: 'open', isLoaded: true, song: { song: 'dew', position: 0 } })
    expect(COME_IN.show?.show).toEqual(demoShow())
    expect([...COME_IN.lamps.keys()]).toEqual(demoShow().rig.lamps.map(({ id }) => id))
    expect([...COME_IN.ports.keys()].toSorted()).toEqual(['bass', 'din', 'keys', 'pads', 'wire'])
    expect(COME_IN.words.map(({ level, source }) => [level, source])).toEqual([['warning', 'wire']])
  })

  it('lets go of lamps and players with a new engine, and takes what that one says', () => {
    const restarted = after([{ type: 'hello', pid: 7 }], COME_IN)
    expect(restarted).toMatchObject({ isLoaded: false, finding: null })
    expect([restarted.lamps.size, restarted.players.size]).toEqual([0, 0])
    expect(
      after([{ type: 'song', song: 'mist', position: 1 }, litLamps(demoShow())], restarted),
    ).toMatchObject({
      isLoaded: true,
      song: { song: 'mist', position: 1 },
    })
  })

  it('after a second welcome has each word once, and nothing of the time before', () => {
    const gone = { ...COME_IN, link: 'lost' as const }
    const again = after(houseWords(), gone)
    expect(again.link).toBe('open')
    expect(again.words.map(({ message }) => message)).toEqual(COME_IN.words.map(({ message }) => message))
    expect(again.words[0]?.count).toBeGreaterThan(COME_IN.words.at(-1)?.count ?? Infinity)
    const welcomed = after(houseWords().slice(0, 1), gone)
    expect([welcomed.ports.size, welcomed.lamps.size, welcomed.isLoaded]).toEqual([0, 0, false])
    expect(welcomed.show).toBe(COME_IN.show)
  })

  it('welcomed anew while it is in, as when cautions were read, lets go of nothing', () => {
    const guards = guardCounts({ lastSecond: 2 })
    const before = after([guards], COME_IN)
    const [welcome] = houseWords()
    if (welcome?.type !== 'welcome') throw new Error('no welcome')
    const again = after([{ ...welcome, areCautionsRead: false }], before)
    expect(again.welcome?.areCautionsRead).toBe(false)
    expect({ ...again, welcome: before.welcome }).toEqual(before)
    // One that comes back is told all that the host keeps.
    expect(after([welcome], { ...before, link: 'lost' }).guards).toBeUndefined()
    expect(after([{ type: 'hello', pid: 7 }], before).guards).toBeUndefined()
  })

  it('knows the tuning that a song goes on in, as long as the host says so and the show has it', () => {
    const tuned = after([{ type: 'tuned', tuning: 'nineteen' }], COME_IN)
    expect(tuned.tuned).toBe('nineteen')
    expect(after([{ type: 'tuned', tuning: null }], tuned).tuned).toBeNull()
    expect(after([{ type: 'hello', pid: 7 }], tuned).tuned).toBeNull()
    // A host that says nothing of it has songs in their own.
    expect(after(houseWords().slice(0, 1), { ...tuned, link: 'lost' }).tuned).toBeNull()
    const [word] = houseWords().filter(({ type }) => type === 'show')
    if (word?.type !== 'show') throw new Error('no show')
    expect(after([word], tuned).tuned).toBe('nineteen')
    const tunings = word.show.tunings.filter(({ id }) => id !== 'nineteen')
    expect(told(tuned, message({ ...word, show: { ...word.show, tunings } })).tuned).toBeNull()
  })

  it('asks for a code when it is not let in, and says why', () => {
    const refused = after([{ type: 'no-entry', message: 'not that code', again: 3000 }])
    expect(refused).toMatchObject({ link: 'asking', noEntry: { message: 'not that code', again: 3000 } })
    expect(after(houseWords().slice(0, 1), refused).noEntry).toBeUndefined()
  })

  it('knows how far counting takes is, and keeps the last count while another goes on', () => {
    const counting = (done: number): HostWord => ({
      type: 'take-checks',
      revision: 2,
      counting: { done, of: 3 },
      songs: [],
      notices: null,
    })
    const whole: HostWord = {
      type: 'take-checks',
      revision: 1,
      counting: null,
      songs: [{ song: 'dew', takes: [], findings: [] }],
      notices: { audience: 'a', venue: 'b' },
    }
    const counted = after([whole], COME_IN)
    expect(counted.takeChecks).toMatchObject({ revision: 1, notices: { audience: 'a' } })
    expect(counted.takesCounting).toBeUndefined()
    const again = after([counting(0), counting(1)], counted)
    expect(again.takesCounting).toEqual({ revision: 2, done: 1, of: 3 })
    expect(again.takeChecks).toBe(counted.takeChecks)
    expect(after([{ ...whole, revision: 2 }], again)).toMatchObject({ takeChecks: { revision: 2 } })
    expect(after([{ ...whole, revision: 2 }], again).takesCounting).toBeUndefined()
    // A host that has been started again counts nothing yet.
    const back = after(houseWords().slice(0, 1), { ...again, link: 'lost' })
    expect(back.takesCounting).toBeUndefined()
    expect(after([{ type: 'venue', name: 'n', html: '<p>' }], COME_IN).venue?.html).toBe('<p>')
  })

  it('keeps a failed load until one succeeds', () => {
    const failed = after([{ type: 'load-failed', message: 'no lamps' }], COME_IN)
    expect(failed).toMatchObject({ loadFailed: 'no lamps', isLoaded: true })
    expect(failed.words.at(-1)).toMatchObject({ level: 'fault', message: 'no lamps' })
    const loaded: HostWord = { type: 'loaded', title: '', song: 'dew', position: 3, songs: ['dew'] }
    expect(after([loaded], failed).loadFailed).toBeUndefined()
  })

  it('has the last hundred words, with counts that go on rising', () => {
    const diagnostic = { level: 'info', source: 'engine', code: 'x', message: 'word' } as const
    const many = Array.from({ length: 130 }, (): HostWord => ({ type: 'diagnostic', at: 0, diagnostic }))
    const { words } = after(many)
    expect(words).toHaveLength(100)
    expect([words[0]?.count, words.at(-1)?.count]).toEqual([31, 130])
  })

  it('has the last two thousand lines of the monitor, and counts what was left out', () => {
    const line = (at: number) => ({ at, way: 'in' as const, source: 'keys', text: 'a note' })
    const said = Array.from({ length: 21 }, (_, part): HostWord => ({
      type: 'monitor',
      at: part,
      events: Array.from({ length: 100 }, (_, index) => line(part * 100 + index)),
      left: part,
    }))
    const { monitor, monitorLeft } = after(said)
    expect([monitor.length, monitor[0]?.at, monitor.at(-1)?.at]).toEqual([2000, 100, 2099])
    expect(monitorLeft).toBe(210)
  })

  it('knows what comes until it has begun, is let be, or its engine has gone', () => {
    const coming: HostWord = { type: 'coming', song: 'mist', position: 1, enterAt: 'bar' }
    const waiting = after([coming], COME_IN)
    expect(waiting.coming).toMatchObject({ song: 'mist', enterAt: 'bar' })
    const ends: readonly HostWord[] = [
      { type: 'coming', song: null, position: null, enterAt: 'now' },
      { type: 'song', song: 'mist', position: 1 },
      { type: 'hello', pid: 4243 },
      { type: 'stopped', clean: true },
    ]
    for (const end of ends) expect(after([end], waiting)).not.toHaveProperty('coming')
    // Another song that begins meanwhile takes nothing from it.
    expect(after([{ type: 'song', song: 'dew', position: 3 }], waiting).coming).toBe(waiting.coming)
  })

  it('keeps failures apart from the words that pass', () => {
    const failure = (what: string): HostWord => ({ type: 'failed', what, message: 'line one\nline two' })
    const { failures, words } = after(Array.from({ length: 25 }, (_, at) => failure(`file ${at}`)))
    expect(failures).toHaveLength(20)
    expect(failures.at(-1)).toEqual(words.at(-1))
    expect(failures.at(-1)).toMatchObject({
      source: 'file 24',
      message: 'line one\nline two',
      level: 'fault',
    })
  })

  it('lets go of what a host before said of files', () => {
    const found = [{ id: 'a', title: 'A', file: null, at: '2031-03-11T19:30:00.000Z', message: 'm' }]
    const told = after(
      [
        { type: 'file-changed', message: 'gone' },
        { type: 'recoveries', found },
      ],
      COME_IN,
    )
    expect(told).toMatchObject({ fileChanged: 'gone', recoveries: found })
    expect(after(houseWords().slice(0, 1), { ...told, link: 'lost' })).toMatchObject({
      fileChanged: null,
      recoveries: [],
    })
  })

  it('counts dark-alls', () => {
    expect(after([{ type: 'dark' }, { type: 'dark' }], COME_IN).darks).toBe(COME_IN.darks + 2)
  })

  it('says every fault of an edit with its place', () => {
    const faults = [
      { path: '$.songs[0].tempo', message: 'not above 0' },
      { path: '$.setList[1]', message: 'no such song' },
    ]
    const { words, editRefused } = after([{ type: 'edit-refused', label: 'tempo', faults }])
    expect(words.at(-1)).toMatchObject({
      level: 'warning',
      source: 'tempo',
      message: '$.songs[0].tempo: not above 0; $.setList[1]: no such song',
    })
    expect(editRefused?.faults).toEqual(faults)
  })

  it('says once that the host speaks of things unknown here, and counts the rest', () => {
    const [once, twice] = [notRead(COME_IN), notRead(notRead(COME_IN))]
    expect([once.unread, twice.unread]).toEqual([1, 2])
    expect(once.words).toHaveLength(COME_IN.words.length + 1)
    expect(twice.words).toEqual(once.words)
  })

  it('takes a word of the screen itself among the others', () => {
    const { words } = said(COME_IN, 'fault', 'evening.txt', 'no show')
    expect(words.at(-1)).toMatchObject({ level: 'fault', source: 'evening.txt', message: 'no show' })
  })
})
