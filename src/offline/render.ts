import type { OutputId, SongId } from '../domain/ids.ts'
import type { LampChange } from '../domain/lamp-state.ts'
import type { MidiMessage } from '../domain/midi-message.ts'
import type { Show } from '../domain/show.ts'
import type { Part, Song } from '../domain/song.ts'
import type { Micros } from '../domain/units.ts'
import { MICROS_PER_SECOND } from '../domain/units.ts'
import { Graph } from '../graph/graph.ts'
import type { TapEvent } from '../graph/tap.ts'
import { encode } from '../midi/encode.ts'
import { writeMidiFile } from '../midi/file-write.ts'
import { strategies } from '../strategies/registry.ts'
import { readyOptions } from '../strategies/strategy.ts'
import { createFlashStarts, pulsesOf } from '../guards/flash/flash-starts.ts'
import { lampLine } from './lamps-jsonl.ts'
import type { NoteBook } from './note-book.ts'
import { createNoteBook } from './note-book.ts'
import type { Pickup } from './pickup.ts'
import { createPickup } from './pickup.ts'
import type { Report, ReportBuilder } from './report.ts'
import { createReport } from './report.ts'
import { createSummary } from './summary.ts'
import type { Take } from './take.ts'
import { showForTake } from './take.ts'
import { songsReached } from './songs-reached.ts'
import { toPcm16 } from './wav.ts'

/** Where a rendered take goes, bit by bit, in order. Left out: not wanted, and not worked out. */
export interface RenderSinks {
  /** A line of `lamps.jsonl`, without its end. */
  readonly lamp?: (line: string) => void
  /** Bytes of a serial output. */
  readonly bytes?: (output: OutputId, bytes: Uint8Array) => void
  /** 16-bit samples of the pickup's sound. */
  readonly sound?: (samples: Uint8Array) => void
  /** 0 to 1. */
  readonly progress?: (done: number) => void
}

export interface Rendered {
  readonly report: Report
  /** A Standard MIDI File for each MIDI output. */
  readonly midi: ReadonlyMap<OutputId, Uint8Array>
  /** The lamps over time as text. */
  readonly summary: string
  /** Notes and hits of the take that were meant to light nothing: bounces, crosstalk, ghosts. They are among the report's `unplaced`. */
  readonly dropped: number
}

/** Samples a second of the pickup's sound. */
export const SOUND_RATE = 48_000
/** Ticks a beat of written MIDI files: 26 us at 97 beats a minute. */
const DIVISION = 24_000
/** How long echoes may go on after the end of the take. */
const LONGEST_TAIL: Micros = 600 * MICROS_PER_SECOND
const SUMMARY_COLUMNS = 72
/** A piece of work that others wait for is no longer than this of the take, or than so many of its events. */
const PIECE: Micros = MICROS_PER_SECOND
const PIECE_EVENTS = 16
/** Sound is worked out in pieces of this length, so that memory does not grow. */
const SOUND_PIECE: Micros = MICROS_PER_SECOND

/**
 * Plays a take into a show from one of its songs on, on a clock of its own; controls that the take works change songs as they do live. The same show and take give
 * the same results, to the last bit.
 */
export function render(given: Show, songId: SongId, take: Take, sinks: RenderSinks = {}): Rendered {
  const pieces = renderInPieces(given, songId, take, sinks)
  for (;;) {
    const { done, value } = pieces.next()
    if (done === true) return value
  }
}

/** The same in pieces of a few milliseconds each, for whoever has something else to do between; the results do not differ. Yields how much is done, 0 to 1. */
export function* renderInPieces(
  given: Show,
  songId: SongId,
  take: Take,
  sinks: RenderSinks = {},
): Generator<number, Rendered, void> {
  const { follow } = given.clock
  const show = showForTake(ownTempo(given), take)
  const song = show.songs.find(({ id }) => id === songId)
  if (!song) throw new RangeError(`the show has no song "${songId}"`)
  const desk = createDesk(show, song, sinks)
  take.warnings.forEach((warning) => desk.report.warn(warning))
  if (follow !== undefined)
    desk.report.warn(`the clock of "${follow}" is not in a take: songs are played at their own tempo`)

  const graph = new Graph({ show, song: songId })
  let endsAt: Micros
  try {
    graph.tap$.subscribe((event) => desk.watch(event))
    graph.open()
    const total = take.events.length
    let next = 0.01
    let played = 0
    for (const { player, message, at } of take.events) {
      // Nobody may play for long while a pattern does.
      for (let to = graph.now + PIECE; to < at; to += PIECE) {
        graph.advance(to)
        yield played / total
      }
      graph.play(player, encode(message), at)
      if (++played % PIECE_EVENTS === 0) yield played / total
      if (played >= next * total) {
        sinks.progress?.(played / total)
        next = played / total + 0.01
      }
    }
    for (let to = graph.now + PIECE; to < take.endsAt; to += PIECE) {
      graph.advance(to)
      yield 1
    }
    graph.advance(Math.max(take.endsAt, graph.now))
    endsAt = yield* runOut(graph, desk, song)
    graph.close(endsAt)
  } finally {
    // Also where nobody wants the rest.
    graph.dispose()
  }
  sinks.progress?.(1)
  return desk.finish(endsAt, take)
}

/** No clock is followed where none comes: beats would stand still. */
function ownTempo(show: Show): Show {
  return { ...show, clock: { ...show.clock, follow: undefined } }
}

/** Ends what is still held, then waits for echoes and gates. Returns when all is dark. */
function* runOut(graph: Graph, desk: Desk, song: Song): Generator<number, Micros, void> {
  const end = graph.now
  for (const { player, notes } of desk.notes.sounding()) {
    desk.report.warn(
      `${player}: ${notes} ${notes === 1 ? 'note was' : 'notes were'} still held when the take ended; ended there`,
    )
    graph.silence(player, end)
  }
  for (const part of song.parts.filter((one) => runsOn(song, one))) {
    desk.report.warn(`part ${part.id}: its pattern plays on by the clock; stopped where the take ended`)
    graph.silence(part.player, end)
  }
  for (let due = 0; graph.nextDue <= end + LONGEST_TAIL; due++) {
    graph.advance(graph.nextDue)
    if (due % PIECE_EVENTS === 0) yield 1
  }
  if (graph.lamps.some((lamp) => lamp.on))
    desk.report.warn('lamps were still lit ten minutes after the take; darkened there')
  return graph.now
}

/** Whether a part plays on though nobody does. */
function runsOn(song: Song, part: Part): boolean {
  const strategy = strategies.find(({ kind }) => kind === part.strategy.kind)
  return strategy?.runsOn?.(readyOptions(strategy, song, part)) ?? false
}

interface Desk {
  readonly report: ReportBuilder
  readonly notes: NoteBook
  watch(event: TapEvent): void
  finish(endsAt: Micros, take: Take): Rendered
}

/** Listens to the graph and writes everything down. */
function createDesk(show: Show, song: Song, sinks: RenderSinks): Desk {
  const report = createReport(show.rig)
  const summary = createSummary(show.rig, SUMMARY_COLUMNS)
  const notes = createNoteBook()
  let worked = 0
  const sound = sinks.sound ? createSound(show, song, sinks.sound) : undefined
  const sent = new Map<OutputId, { at: Micros; message: MidiMessage }[]>()
  for (const output of show.rig.outputs) if (output.kind === 'midi') sent.set(output.id, [])

  const frame = (at: Micros, changes: readonly LampChange[]): void => {
    report.frame(at, changes)
    summary.frame(at, changes)
    notes.changes(changes)
    sound?.frame(at, changes)
    if (sinks.lamp) for (const change of changes) sinks.lamp(lampLine(change, at))
  }
  return {
    report,
    notes,
    watch(event) {
      switch (event.kind) {
        case 'frame':
          return frame(event.at, event.changes)
        case 'bytes':
          if (event.message) sent.get(event.output)?.push({ at: event.at, message: event.message })
          else sinks.bytes?.(event.output, event.bytes)
          return
        case 'player':
          return notes.player(event.player, event.event)
        case 'steal':
          return report.count('steals')
        case 'refused':
          report.count('refused')
          return report.warn(refusalWords(event))
        case 'shed':
          report.count('stolen')
          return report.warn(`supply ${event.supply}: lamp ${event.lamp} went dark for another`)
        case 'held-down':
          report.count('heldDown')
          return report.warn(`lamp ${event.lamp}: duty held down, for the power that it bears in the mean`)
        case 'folded':
        case 'tied':
        case 'glowed':
          return report.count(event.kind)
        case 'exceeded':
          return report.warn(`supply ${event.supply}: over its limit with ${event.lamp}`)
        case 'diagnostic':
          return report.warn(`${event.diagnostic.source}: ${event.diagnostic.message}`)
        case 'song':
          return report.count('switches')
        case 'control':
          if (event.message.type === 'note-on') worked++
          return
        case 'heard':
          return
      }
    },
    finish(endsAt, take) {
      const drops = notes.dropped()
      for (const { player, why, notes: count } of drops) {
        report.warn(`${player}: ${count} ${count === 1 ? 'hit or note' : 'hits or notes'} dropped (${why})`)
      }
      // A note that works a control is none.
      const notesIn = take.notesIn - worked
      report.count('notesIn', notesIn)
      report.count('unplaced', notesIn - notes.placed)
      sound?.finish(endsAt)
      const figures = report.finish(endsAt)
      const midi = new Map(
        [...sent].map(([output, events]) => [output, midiFile(song, output, events, endsAt)] as const),
      )
      const dropped = drops.reduce((sum, one) => sum + one.notes, 0)
      return { report: figures, midi, summary: summary.finish(endsAt, figures), dropped }
    },
  }
}

function refusalWords({ part, lamp, reason }: TapEvent & { kind: 'refused' }): string {
  switch (reason) {
    case 'supply':
      return `part ${part}: lamp ${lamp} not lit, its supply is at its limit`
    case 'range':
      return `part ${part}: lamp ${lamp} not lit, no octave of the note is in its range`
    case 'claimed':
      return `part ${part}: lamp ${lamp} not lit, another part has it`
    case 'unmapped':
      return `part ${part}: lamp ${lamp} not lit, its tuning has no pitch for the key`
  }
}

function midiFile(
  song: Song,
  output: OutputId,
  events: readonly { at: Micros; message: MidiMessage }[],
  endsAt: Micros,
): Uint8Array {
  const timeSignature = { beats: song.beats, unit: 4 }
  return writeMidiFile({
    division: DIVISION,
    tempo: song.tempo,
    timeSignature,
    tracks: [{ name: output, events }],
    endsAt,
  })
}

interface Sound {
  frame(at: Micros, changes: readonly LampChange[]): void
  finish(endsAt: Micros): void
}

/** The pickup hears the lamps of the songs that may be played; others stay dark, and need no room. */
function createSound(show: Show, song: Song, sink: (samples: Uint8Array) => void): Sound {
  const parts = [song, ...(show.switching.controls.length > 0 ? songsReached(show) : [])].flatMap(
    (one) => one.parts,
  )
  const used = show.rig.lamps.filter(({ id }) => parts.some((part) => part.lamps.includes(id)))
  const place = new Map(used.map(({ id }, index) => [id, index]))
  const pickup: Pickup = createPickup({ lamps: Math.max(1, used.length), sampleRate: SOUND_RATE })
  const starts = createFlashStarts(used.length)
  const write = (block: Float32Array): void => sink(toPcm16(block))
  let done: Micros = 0
  const catchUp = (at: Micros): void => {
    while (done + SOUND_PIECE < at) {
      done += SOUND_PIECE
      pickup.renderUntil(done, write)
    }
  }
  return {
    frame(at, changes) {
      catchUp(at)
      for (const { lamp, state } of changes) {
        const index = place.get(lamp)
        if (index === undefined) continue
        const begins = starts.isStart(index, state)
        pickup.apply(state.on ? { index, at, ...pulsesOf(state), begins } : { index, at, dark: true })
      }
    },
    finish(endsAt) {
      catchUp(endsAt)
      pickup.renderUntil(endsAt, write)
      pickup.finish(write)
    },
  }
}
