import type { FromHost, TakeFiguresWord } from '../../../src/contract/from-host.ts'
import { CONTRACT_VERSION } from '../../../src/contract/version.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { GigCheck } from '../../../src/offline/gig-check/gig-check.ts'
import { flashiestLamp } from '../../../src/offline/gig-check/lamp-figures.ts'
import { nightFigures } from '../../../src/offline/gig-check/night-figures.ts'
import type { CountedTake } from '../../../src/offline/gig-check/take-result.ts'
import { audienceNotice } from '../../../src/offline/notice/audience-notice.ts'
import { noticeText } from '../../../src/offline/notice/notice.ts'
import { venueNotice } from '../../../src/offline/notice/venue-notice.ts'
import { venuePage } from '../../../src/offline/venue/venue-page.ts'

const v = CONTRACT_VERSION

/** How far counting is. */
export function countingWord(revision: number, done: number, of: number): FromHost {
  return { v, type: 'take-checks', revision, counting: { done, of }, songs: [], notices: null }
}

/** What was counted, and the notices that come of it. */
export function takeChecksWord(revision: number, show: Show, gig: GigCheck): FromHost {
  const night = nightFigures(gig)
  return {
    v,
    type: 'take-checks',
    revision,
    counting: null,
    songs: gig.songs.map(({ song, takes, findings }) => ({
      song: song.id,
      takes: takes.map((take) => ({ take: take.take, figures: take.ok ? figuresOf(show, take) : null })),
      findings: findings.map((finding) => ({ ...finding })),
    })),
    notices: {
      audience: noticeText(audienceNotice(show, night)),
      venue: noticeText(venueNotice(show, night)),
    },
  }
}

/** The page for the venue. */
export function venueWord(show: Show, gig: GigCheck, date: string): FromHost {
  return { v, type: 'venue', name: `${show.title}, for the venue`, html: venuePage(show, gig, { date }) }
}

function figuresOf({ rig }: Show, { report, dropped }: CountedTake): TakeFiguresWord {
  const { flash, supplies, guards, seconds, notesIn, unplaced, worstCents } = report
  const lamp = flashiestLamp(flash)
  return {
    seconds,
    fieldPerSecondMax: flash.fieldPerSecondMax,
    lampPerSecondMax: lamp?.perSecondMax ?? 0,
    lamp: lamp?.id ?? null,
    bandSeconds: flash.bandSeconds,
    under60Seconds: flash.under60Seconds,
    litShareMax: flash.litShareMax,
    flashShareMax: flash.flashShareMax,
    notesIn,
    unlit: Math.max(0, unplaced - dropped),
    worstCents,
    supplies: rig.supplies.map(({ id, maxAmps, usable }) => ({
      supply: id,
      peakAmps: supplies[id]?.peakAmps ?? 0,
      meanAmps: supplies[id]?.meanAmps ?? 0,
      limitAmps: maxAmps * usable,
    })),
    guards: { ...guards },
  }
}
