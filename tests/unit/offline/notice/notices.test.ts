import { expect, test } from 'vitest'
import type { Show } from '../../../../src/domain/show.ts'
import type { GigCheck } from '../../../../src/offline/gig-check/gig-check.ts'
import { gigCheck } from '../../../../src/offline/gig-check/gig-check.ts'
import { nightFigures } from '../../../../src/offline/gig-check/night-figures.ts'
import { audienceNotice } from '../../../../src/offline/notice/audience-notice.ts'
import { noticeText } from '../../../../src/offline/notice/notice.ts'
import { venueNotice } from '../../../../src/offline/notice/venue-notice.ts'
import { demoShow } from '../../../support/demo.ts'
import { glasshouse } from '../../../support/shows.ts'
import { checkedGig, strummed, takeFile } from '../../../support/song-takes.ts'
import { validShow } from '../../../support/valid-show.ts'

const HOUSE = validShow(glasshouse())
const BUSY = checkedGig(HOUSE, { tide: [takeFile({ keys: strummed(69, 5, 3) })] })
const NOTHING = gigCheck(HOUSE, [])

const forAudience = (show: Show, gig: GigCheck): string => noticeText(audienceNotice(show, nightFigures(gig)))
const forVenue = (show: Show, gig: GigCheck): string => noticeText(venueNotice(show, nightFigures(gig)))

/** Words that no count of ours can stand for. */
const VERDICT =
  /\b(safe|low risk|harmless|no risk|no danger|compl(y|ies|iant)|passed|approved|within the law)\b/i

test('the audience is told what concerns it, with the count, in few words', () => {
  const words = forAudience(HOUSE, BUSY)
  for (const told of [
    /flash/,
    /photosensitive epilepsy/,
    /We counted up to 5 flashes in one second, and up to 2\.8 seconds in one piece at the rates/,
    /Sit far from the lamps and near a way out/,
    /Leave whenever you like/,
    /Tell anybody of the crew/,
    /sound can be loud/i,
    /do not look into them/,
  ])
    expect(words).toMatch(told)
  expect(words.split(/\s+/).length).toBeLessThan(180)
  expect(words.split('\n').every((line) => line.length < 240)).toBe(true)
})

test('what was not counted is said, not left out', () => {
  expect(forAudience(HOUSE, NOTHING)).toContain('How often it flashes has not been counted.')
  expect(forAudience(HOUSE, NOTHING)).not.toMatch(/We counted/)
  const show = demoShow()
  const part = checkedGig(show, { mist: [takeFile({ keys: strummed(69, 2, 3) })] })
  expect(forAudience(show, part)).toContain('3 pieces of the evening have not been counted.')
  expect(forVenue(show, part)).toContain(
    'Not counted, since there is no take of it: Dew on the panes, Slow growth and Slow growth, no bass.',
  )
  expect(forVenue(HOUSE, NOTHING)).toContain('Nothing was counted')
})

test('the venue is told the figures', () => {
  const words = forVenue(HOUSE, BUSY)
  for (const told of [
    'Flashes in any one second, of the field: 5 (Tide table); of one lamp: 5 (Tide table).',
    '3 to 30 Hz, the band of most concern (epilepsy charities, second-hand): 2.8 s (Tide table)',
    'Lamps lit at one time: 25 % (Tide table); lamps that go on and off in one flash of the field: 25 %',
    // 4 lamps of 10 W at 12 V; 80 % of 5 A; one lamp lit for half the time at half its duty.
    'Supply bench, 12 V: 4 lamps, 40 W and 3.33 A with all of them lit; planned for 4 A (80 % of 5 A); counted at most 0.833 A (Tide table), in the mean',
    'It replaces no fuse: one that fits belongs in every supply line.',
    '4 lamps, 40 W together',
    'Nobody has said what lamps fern, moss, reed and sedge bear in the mean.',
    'how loud has not been measured',
    'How bright the lamps are',
    'F8 on the keyboard of any screen, or the Dark key',
    'A switch that takes the power off the lamps',
    'The flash guard warns: flashes are counted and told, nothing is held back.',
  ])
    expect(words).toContain(told)
})

test('what lamps bear, which control darkens, and since when the guard is off', () => {
  const show = validShow(
    glasshouse({
      rig: {
        supplies: [{ id: 'bench', volts: 12, maxAmps: 5 }],
        outputs: [{ id: 'wire', kind: 'serial', port: 'virtual' }],
        lamps: [
          {
            id: 'fern',
            output: 'wire',
            slot: 0,
            supply: 'bench',
            watts: 10,
            heat: { meanWatts: 4, seconds: 20 },
          },
          { id: 'moss', output: 'wire', slot: 1, supply: 'bench', watts: 15 },
        ],
      },
      songs: [
        {
          id: 'tide',
          title: 'Tide table',
          parts: [{ id: 'lead', player: 'keys', lamps: ['fern'], strategy: { kind: 'unison' } }],
        },
      ],
      switching: { controls: [{ player: 'keys', on: { kind: 'note', key: 127 }, do: 'dark' }] },
      guards: { flash: { action: 'off', since: '2031-02-28' } },
    }),
  )
  const words = forVenue(show, gigCheck(show, []))
  expect(words).toContain('held to by a thinner duty: fern 4 W in 20 s.')
  expect(words).toContain('Nobody has said what lamp moss bears in the mean.')
  expect(words).toContain('the most of one is 15 W (moss)')
  expect(words).toContain('On an instrument: keys: key G9 (127).')
  expect(words).toContain('The flash guard is off since 2031-02-28')
})

test('different shows and different takes have different notices', () => {
  const other = { ...HOUSE, title: 'Another night' }
  const slow = checkedGig(HOUSE, { tide: [takeFile({ keys: strummed(69, 2, 3) })] })
  const gigs: readonly (readonly [Show, GigCheck])[] = [
    [HOUSE, BUSY],
    [HOUSE, slow],
    [HOUSE, NOTHING],
    [other, BUSY],
    [demoShow(), gigCheck(demoShow(), [])],
  ]
  for (const text of [forAudience, forVenue]) {
    const texts = gigs.map(([show, gig]) => text(show, gig))
    expect(new Set(texts).size).toBe(gigs.length)
    for (const one of texts) expect(one).not.toMatch(VERDICT)
  }
})
