import type { Player } from '../domain/player.ts'
import type { Lamp, MidiOutput, Output, SerialOutput } from '../domain/rig.ts'
import type { Show } from '../domain/show.ts'
import type { Pattern, PatternRow } from '../domain/pattern.ts'
import type { Song } from '../domain/song.ts'

/** `T`, with the fields `K` left out or not: what a file may hold before its context fills them in. */
type Without<T, K extends keyof T> = T extends unknown
  ? Omit<T, K> & { readonly [F in K]?: T[F] | undefined }
  : never

type LooseOutput = SerialOutput | Without<MidiOutput, 'firstChannel' | 'bendRange'>

interface LoosePattern extends Omit<Pattern, 'name' | 'rows'> {
  readonly name?: string | undefined
  readonly rows: readonly Without<PatternRow, 'id'>[]
}

interface LooseSong extends Omit<Song, 'tuning' | 'patterns'> {
  readonly tuning?: Song['tuning'] | undefined
  readonly patterns: readonly LoosePattern[]
}

export interface IncompleteShow extends Omit<Show, 'rig' | 'players' | 'songs' | 'setList'> {
  readonly rig: {
    readonly supplies: Show['rig']['supplies']
    readonly outputs: readonly LooseOutput[]
    readonly lamps: readonly Without<Lamp, 'name' | 'x'>[]
  }
  readonly players: readonly Without<Player, 'name'>[]
  readonly songs: readonly LooseSong[]
  readonly setList?: Show['setList'] | undefined
}

/** Fills in the defaults that depend on the rest of the show. */
export function completeShow(show: IncompleteShow): Show {
  const firstTuning = show.tunings[0]?.id ?? ''
  return {
    format: show.format,
    version: show.version,
    title: show.title,
    rig: {
      supplies: show.rig.supplies,
      outputs: show.rig.outputs.map(completeOutput),
      lamps: show.rig.lamps.map((lamp, place) => ({
        ...lamp,
        name: lamp.name ?? lamp.id,
        x: lamp.x ?? place,
      })),
    },
    thru: show.thru,
    players: show.players.map((player) => ({ ...player, name: player.name ?? player.id })),
    tunings: show.tunings,
    songs: show.songs.map((song) => ({
      ...song,
      tuning: song.tuning ?? firstTuning,
      patterns: song.patterns.map(completePattern),
    })),
    // A variant is played in the place of the song it is one of.
    setList:
      show.setList ?? show.songs.filter(({ variantOf }) => variantOf === undefined).map(({ id }) => id),
    switching: show.switching,
    clock: show.clock,
    guards: show.guards,
  }
}

function completeOutput(output: LooseOutput): Output {
  if (output.kind === 'serial') return output
  const isMpe = output.layout === 'mpe'
  return {
    ...output,
    firstChannel: output.firstChannel ?? (isMpe ? 2 : 1),
    bendRange: output.bendRange ?? (isMpe ? 48 : 2),
  }
}

function completePattern(pattern: LoosePattern): Pattern {
  return {
    ...pattern,
    name: pattern.name ?? pattern.id,
    rows: pattern.rows.map((row) => ({ ...row, id: row.id ?? row.lamp })),
  }
}
