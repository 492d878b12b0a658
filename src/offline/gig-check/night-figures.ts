import type { LampId, SupplyId } from '../../domain/ids.ts'
import type { Song } from '../../domain/song.ts'
import type { Amps, Seconds } from '../../domain/units.ts'
import type { CheckedSong, GigCheck } from './gig-check.ts'
import { countedTakes } from './gig-check.ts'
import { flashiestLamp } from './lamp-figures.ts'
import type { CountedTake } from './take-result.ts'

/** The most of everything that any take of the night came to. */
export interface NightFigures {
  readonly takes: number
  /** Songs with a take that was counted, and without. */
  readonly counted: readonly Song[]
  readonly uncounted: readonly Song[]
  /** Absent: nothing was counted. */
  readonly most?: MostFigures | undefined
}

export interface MostFigures {
  readonly perSecond: Of<number>
  readonly fieldPerSecond: Of<number>
  readonly lampPerSecond: Of<number> & { readonly lamp?: LampId | undefined }
  readonly bandSeconds: Of<Seconds>
  readonly under60Seconds: Of<Seconds>
  /** Of the rig's lamps lit at one time; of those that go on and off in one flash of the field; 0 to 1. */
  readonly litShare: Of<number>
  readonly flashShare: Of<number>
  readonly peakAmps: ReadonlyMap<SupplyId, Of<Amps>>
  readonly meanAmps: ReadonlyMap<SupplyId, Of<Amps>>
}

/** A figure, and the song whose take came to it. */
export interface Of<T> {
  readonly value: T
  readonly song: Song
}

export function nightFigures({ songs }: GigCheck): NightFigures {
  const takes = songs.flatMap(({ song, takes: all }) => countedTakes(all).map((take) => ({ song, take })))
  const isCounted = ({ takes: all }: CheckedSong): boolean => countedTakes(all).length > 0
  return {
    takes: takes.length,
    counted: songs.filter(isCounted).map(({ song }) => song),
    uncounted: songs.filter((one) => !isCounted(one)).map(({ song }) => song),
    most: mostOf(takes),
  }
}

type SongTake = { readonly song: Song; readonly take: CountedTake }

function mostOf(takes: readonly SongTake[]): MostFigures | undefined {
  const [first] = takes
  if (!first) return undefined
  const most = (of: (report: CountedTake['report']) => number): Of<number> => {
    const values = takes.map(({ song, take }) => ({ song, value: of(take.report) }))
    return values.reduce((a, b) => (b.value > a.value ? b : a))
  }
  const lamps = takes.map(({ song, take }) => ({ song, lamp: flashiestLamp(take.report.flash) }))
  const flashiest = lamps.reduce((a, b) =>
    (b.lamp?.perSecondMax ?? 0) > (a.lamp?.perSecondMax ?? 0) ? b : a,
  )
  const ids = Object.keys(first.take.report.supplies)
  const bySupply = (of: 'peakAmps' | 'meanAmps') =>
    new Map(ids.map((id) => [id, most(({ supplies }) => supplies[id]?.[of] ?? 0)] as const))
  return {
    perSecond: most(({ flash }) => flash.perSecondMax),
    fieldPerSecond: most(({ flash }) => flash.fieldPerSecondMax),
    lampPerSecond: {
      value: flashiest.lamp?.perSecondMax ?? 0,
      song: flashiest.song,
      lamp: flashiest.lamp?.id,
    },
    bandSeconds: most(({ flash }) => flash.bandSeconds),
    under60Seconds: most(({ flash }) => flash.under60Seconds),
    litShare: most(({ flash }) => flash.litShareMax),
    flashShare: most(({ flash }) => flash.flashShareMax),
    peakAmps: bySupply('peakAmps'),
    meanAmps: bySupply('meanAmps'),
  }
}
