import type { SongId } from '../domain/ids.ts'
import type { Player } from '../domain/player.ts'
import { isSameData } from '../domain/same-data.ts'
import type { Show } from '../domain/show.ts'

/** Whether two shows have the same rig, players, thrus and guards, and which ports are sent a clock: all that ports and everything outside songs go by. Names, and where lamps hang, do not count. */
export function isSameHouse(a: Show, b: Show): boolean {
  return isSameData(houseOf(a), houseOf(b))
}

/** Whether a song would play the same in both: its parts, tempo and tuning. False where either has not got it. */
export function isSameSong(a: Show, b: Show, song: SongId): boolean {
  const one = playedOf(a, song)
  const other = playedOf(b, song)
  return one !== undefined && other !== undefined && isSameData(one, other)
}

/** Whether a song has other patterns and is otherwise the same in both. False where either has not got it. */
export function hasOtherPatterns(a: Show, b: Show, song: SongId): boolean {
  const one = playedOf(a, song)
  const other = playedOf(b, song)
  if (one === undefined || other === undefined || isSameData(one.patterns, other.patterns)) return false
  return isSameData({ ...one, patterns: [] }, { ...other, patterns: [] })
}

function houseOf({ rig, players, thru, guards, clock }: Show): unknown {
  return {
    rig: { ...rig, lamps: rig.lamps.map((lamp) => ({ ...lamp, name: '', x: 0, y: 0 })) },
    players: players.map(nameless),
    thru,
    guards,
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
function playedOf({ songs, tunings }: Show, songId: SongId) {
  const song = songs.find((one) => one.id === songId)
  if (!song) return undefined
  const tuning = tunings.find(({ id }) => id === song.tuning)
  const { id, tempo, beats, parts } = song
  const patterns = song.patterns.map((pattern) => ({ ...pattern, name: '' }))
  return { id, tempo, beats, parts, patterns, tuning: { ...tuning, id: '' } }
}
