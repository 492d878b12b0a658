import { flashGuardOf } from '../domain/flash-guard.ts'
import type { SongId, TuningId } from '../domain/ids.ts'
import type { Player } from '../domain/player.ts'
import { isSameData } from '../domain/same-data.ts'
import type { Show } from '../domain/show.ts'
import type { TuningSpec } from '../domain/tuning-spec.ts'

/** Whether two shows have the same rig, players, thrus and guards, and which ports are sent a clock: all that ports and everything outside songs go by. Names, and where lamps hang, do not count. */
export function isSameHouse(a: Show, b: Show): boolean {
  return isSameData(houseOf(a), houseOf(b))
}

/**
 * What an edit is to a song: `none`, it plays the same; `lively`, nothing but its patterns, how it is tuned or its flash guard is other, and it can go on; `all`. `all` too where either has not
 * got it.
 */
export function songChange(a: Show, b: Show, song: SongId): 'none' | 'lively' | 'all' {
  const one = playedOf(a, song)
  const other = playedOf(b, song)
  if (one === undefined || other === undefined) return 'all'
  if (isSameData(one, other)) return 'none'
  return isSameData({ ...one, lively: null }, { ...other, lively: null }) ? 'lively' : 'all'
}

function houseOf({ rig, players, thru, guards, clock }: Show): unknown {
  return {
    rig: { ...rig, lamps: rig.lamps.map((lamp) => ({ ...lamp, name: '', x: 0, y: 0 })) },
    players: players.map(nameless),
    thru,
    // The flash guard is each song's.
    supply: guards.supply,
    clock: { follow: clock.follow, send: clock.send },
  }
}

/** A pad that has nothing but a name of its own is as all others are. */
function nameless(player: Player): Player {
  const unnamed = { ...player, name: '' }
  if (unnamed.kind !== 'pads') return unnamed
  const set = unnamed.pads.filter(({ floor, maskMs, gateMs, curve }) =>
    [floor, maskMs, gateMs, curve].some((one) => one !== undefined),
  )
  return { ...unnamed, pads: set.map((pad) => ({ ...pad, name: '' })) }
}

/** Not what is for people, for the way there, or for the moment it begins. */
function playedOf({ songs, tunings, guards }: Show, songId: SongId) {
  const song = songs.find((one) => one.id === songId)
  if (!song) return undefined
  const { id, tempo, beats, wander } = song
  const patterns = song.patterns.map((pattern) => ({ ...pattern, name: '' }))
  const parts = song.parts.map((part) => ({ ...part, tuning: undefined }))
  const tuned = song.parts.map((part) => heardOf(tunings, part.tuning ?? song.tuning))
  return {
    id,
    tempo,
    beats,
    wander,
    parts,
    lively: { patterns, tuned, flash: flashGuardOf({ guards }, song) },
  }
}

/** A tuning as it sounds, without what it is called. */
function heardOf(tunings: readonly TuningSpec[], id: TuningId): unknown {
  const tuning = tunings.find((one) => one.id === id)
  if (tuning?.kind === 'received') return { ...tuning, id: '', base: heardOf(tunings, tuning.base) }
  return { ...tuning, id: '', name: '' }
}
