import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { CAUTIONS } from '../../../../src/domain/cautions.ts'
import type { Show } from '../../../../src/domain/show.ts'
import type { GigCheck } from '../../../../src/offline/gig-check/gig-check.ts'
import { gigCheck } from '../../../../src/offline/gig-check/gig-check.ts'
import { venuePage } from '../../../../src/offline/venue/venue-page.ts'
import { DEMO_TAKE, demoShow } from '../../../support/demo.ts'
import { HOSTILE, hostileShow } from '../../../support/hostile-show.ts'
import { htmlFaults, reachingOut } from '../../../support/html-faults.ts'
import { pageWords } from '../../../support/page-words.ts'
import { glasshouse } from '../../../support/shows.ts'
import { checkedGig } from '../../../support/song-takes.ts'
import { validShow } from '../../../support/valid-show.ts'

const DATE = { date: '2031-02-28' }
const BYTES = Uint8Array.from(readFileSync(DEMO_TAKE))
const DEMO = demoShow()
const DEMO_GIG = checkedGig(DEMO, { dew: [BYTES], mist: [BYTES] })
const HOSTILE_SHOW = validShow(hostileShow())

/** A take of that name that could not be read, for that reason. */
function failedTake(show: Show, take: string, why: string): GigCheck {
  return gigCheck(show, [{ ok: false, song: show.songs[0]?.id ?? '', take, why }])
}

const PAGES: readonly (readonly [string, Show, GigCheck])[] = [
  ['the demo, two songs counted', DEMO, DEMO_GIG],
  ['nothing counted', validShow(glasshouse()), gigCheck(validShow(glasshouse()), [])],
  ['hostile texts', HOSTILE_SHOW, failedTake(HOSTILE_SHOW, HOSTILE, HOSTILE)],
  ['an empty set list', { ...DEMO, setList: [] }, gigCheck({ ...DEMO, setList: [] }, [])],
]

describe.each(PAGES)('%s', (_, show, gig) => {
  const page = venuePage(show, gig, DATE)

  test('is valid, accessible HTML that needs nothing besides itself', () => {
    expect(htmlFaults(page)).toEqual([])
    expect(reachingOut(page)).toEqual([])
  })

  test('has the date, the cautions, what is not known, who darkens, the flash guard', () => {
    const words = pageWords(page)
    for (const told of [
      'For the venue, 2031-02-28',
      ...CAUTIONS,
      'What is not known',
      'how much of anybody’s view they fill',
      'How far away people are',
      'F8 on the keyboard of any screen, or the Dark key',
      'A switch that takes the power off the lamps by itself',
      'one that fits the thinnest wire belongs in every supply line',
      'The flash guard warns',
    ])
      expect(words).toContain(told)
    // Hostile texts may say what they like.
    expect(words.replaceAll('nothing it prints says that a show is safe', '')).not.toMatch(
      /\b(is safe|low risk|harmless|compliant)\b/i,
    )
  })
})

test('figures are those of report.json, a row a take, worst first', () => {
  const page = venuePage(DEMO, DEMO_GIG, DATE)
  const table = /<table class="takes">(.*?)<\/table>/su.exec(page)?.[1] ?? ''
  const rows = [...table.matchAll(/<tr>(.*?)<\/tr>/gsu)].map(([, row]) => pageWords(row ?? '').trim())
  const wanted = DEMO_GIG.songs.flatMap(({ song, takes }) =>
    takes.map((take) => {
      if (!take.ok) throw new Error('the demo take is counted')
      const { seconds, flash, supplies } = take.report
      const round = (value: number): string => String(Number(value.toPrecision(3)))
      const lamps = Object.entries(flash.lamps)
      const most = Math.max(...lamps.map(([, { perSecondMax }]) => perSecondMax))
      const lamp = lamps.find(([, { perSecondMax }]) => perSecondMax === most)?.[0]
      return [
        song.title,
        `${song.id}-1.mid warn`,
        round(seconds),
        flash.fieldPerSecondMax,
        `${most}, ${lamp}`,
        round(flash.bandSeconds),
        round(flash.under60Seconds),
        round(100 * flash.litShareMax),
        round(100 * flash.flashShareMax),
        `bench ${round(supplies['bench']?.peakAmps ?? 0)}`,
      ].join(' ')
    }),
  )
  expect(wanted).toHaveLength(2)
  expect(rows.slice(1, 3)).toEqual(wanted)
  // The reports of what comes first and what comes next.
  expect(wanted[0]).toMatch(/^Dew on the panes/)
  expect(rows.slice(3)).toEqual([
    expect.stringMatching(/^Slow growth warn no take: nothing counted/),
    expect.stringMatching(/^Slow growth, no bass warn no take/),
  ])
})

test('the most of the night is in the text as well', () => {
  const [first] = DEMO_GIG.songs[0]?.takes ?? []
  const peak = first?.ok ? first.report.supplies['bench']?.peakAmps : undefined
  expect(pageWords(venuePage(DEMO, DEMO_GIG, DATE))).toContain(
    `counted at most ${Number(peak?.toPrecision(3))} A (Dew on the panes)`,
  )
})

test('the same show and takes make the same page; another take, guard or date another', () => {
  const page = venuePage(DEMO, DEMO_GIG, DATE)
  const again = demoShow()
  expect(venuePage(again, checkedGig(again, { mist: [BYTES], dew: [BYTES] }), DATE)).toBe(page)
  const off: Show = { ...DEMO, guards: { ...DEMO.guards, flash: { action: 'off', since: '2030-12-31' } } }
  const others = [
    venuePage(DEMO, checkedGig(DEMO, { dew: [BYTES] }), DATE),
    venuePage(off, DEMO_GIG, DATE),
    venuePage(DEMO, DEMO_GIG, { date: '2031-03-01' }),
  ]
  expect(new Set([page, ...others]).size).toBe(4)
  expect(pageWords(others[1] ?? '')).toContain('is off since 2030-12-31: nothing is told or held back')
  expect(pageWords(others[1] ?? '')).toContain('off since 2030-12-31 69.2')
})

// IEEE Std 1789-2015 (second-hand): on/off light is 100 % at any duty; practice 1 allows 0.08 x f %, 100 % at 1250 Hz, practice 2 0.0333 x f %, 100 % at 3000 Hz.
test('modulation against rate: a picture, and a row a lamp that says the same of all takes', () => {
  const page = venuePage(DEMO, DEMO_GIG, DATE)
  const picture = /<figure class="modulation">(.*?)<\/figure>/su.exec(page)?.[1] ?? ''
  expect(picture.trim()).toMatch(/^<svg[^>]*role="img"/)
  expect(pageWords(picture)).toContain('no judgement')
  const table = /<table class="rates">(.*?)<\/table>/su.exec(page)?.[1] ?? ''
  const [, ...rows] = [...table.matchAll(/<tr>(.*?)<\/tr>/gsu)].map(([, row]) =>
    [...(row ?? '').matchAll(/<t[hd][^>]*>(.*?)<\/t[hd]>/gsu)].map(([, cell]) =>
      pageWords(cell ?? '').trim(),
    ),
  )
  const reports = DEMO_GIG.songs
    .flatMap(({ takes }) => takes)
    .flatMap((take) => (take.ok ? [take.report] : []))
  const rates = (lamp: string) => reports.flatMap(({ flash }) => flash.lamps[lamp]?.rates ?? [])
  const used = DEMO.rig.lamps.filter(({ id }) => rates(id).length > 0)
  expect(rows.map(([name]) => name)).toEqual(used.map(({ name }) => name))
  used.forEach(({ id }, place) => {
    const below = (limit: number): number =>
      rates(id).reduce((sum, { hz, seconds }) => sum + (hz < limit ? seconds : 0), 0)
    expect(Number(rows[place]?.[4])).toBeCloseTo(below(1250), below(1250) >= 100 ? -1 : 0)
    expect(Number(rows[place]?.[5])).toBeCloseTo(below(3000), below(3000) >= 100 ? -1 : 0)
    expect(rows[place]?.[1]).toBe('100')
  })
})

test('a take that could not be read is a row and a finding', () => {
  const gig = failedTake(DEMO, 'gone.mid', 'there is no such file; check the name')
  const words = pageWords(venuePage(DEMO, gig, DATE))
  expect(words).toContain('gone.mid warn could not be counted')
  expect(words).toContain('fault: there is no such file; check the name')
})

test('hostile texts stay text', () => {
  const page = venuePage(HOSTILE_SHOW, failedTake(HOSTILE_SHOW, HOSTILE, HOSTILE), DATE)
  expect(page).not.toContain('<script')
  expect(page.match(/&lt;script&gt;alert\(1\)&lt;\/script&gt; &amp;amp;/g)?.length).toBeGreaterThan(5)
})
