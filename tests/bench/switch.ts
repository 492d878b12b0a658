import type { Show } from '../../src/domain/show.ts'
import { Graph } from '../../src/graph/graph.ts'
import { parseShow } from '../../src/show/parse-show.ts'
import { formatFaults } from '../../src/show/show-fault.ts'
import { strategies } from '../../src/strategies/registry.ts'

export interface SwitchCost {
  readonly what: string
  readonly count: number
  readonly p50Micros: number
  readonly p99Micros: number
  readonly maxMicros: number
}

const LAMPS = 64
const PARTS = 12
const SONGS = 7
const WARM = 300
const MEASURED = 2_000
/** Notes from one switch to the next: there are always many, so that what making songs ready leaves behind is cleared away before. */
const NOTES_BETWEEN = 60
/** Microseconds of the graph's own time from event to event. */
const SPACING = 5_000
const CHORD = [48, 52, 55, 60]

/** Several strategies, by turns, a song's first one place further than the song's before. */
const KINDS = [
  { kind: 'lowest-free' },
  { kind: 'unison' },
  { kind: 'travel', path: 'pendulum', move: { every: '1/16' }, width: 2 },
  { kind: 'rotate' },
  { kind: 'canon', delay: '1/8' },
  { kind: 'nearest' },
  { kind: 'partials' },
]

/**
 * From the bytes of a program change to the first bytes of the song it asks for, and from a note's to its first, by turns in one show and one run. Songs are made
 * ready before, as a session does when nothing else happens; that is not counted.
 */
export function switchCosts(enter: 'cut' | 'carry'): SwitchCost[] {
  const { notes, switches } = timesOf(new Stage(benchShow(enter)))
  return [
    costOf(`a note, the fourth held (${enter})`, notes),
    costOf(`a switch, four held (${enter})`, switches),
  ]
}

function costOf(what: string, measured: readonly number[]): SwitchCost {
  const times = Float64Array.from(measured).sort()
  const at = (share: number): number => Math.round((times[Math.floor(times.length * share)] ?? 0) * 100) / 100
  return {
    what,
    count: times.length,
    p50Micros: at(0.5),
    p99Micros: at(0.99),
    maxMicros: Math.round(times.at(-1) ?? 0),
  }
}

/** A graph, and when its first bytes left. */
class Stage {
  readonly graph: Graph
  #now = 0
  #firstBytes = 0

  constructor(show: Show) {
    this.graph = new Graph({ show, song: 'song0' })
    this.graph.tap$.subscribe((event) => {
      if (event.kind === 'bytes' && this.#firstBytes === 0) this.#firstBytes = performance.now()
    })
    this.graph.open()
  }

  /** Microseconds from the bytes to the first bytes out; undefined where there were none. */
  send(...bytes: number[]): number | undefined {
    const message = Uint8Array.from(bytes)
    this.#now += SPACING
    // What is due before is not the message's.
    this.graph.advance(this.#now - 1)
    this.#firstBytes = 0
    const began = performance.now()
    this.graph.play('keys', message, this.#now)
    this.graph.advance(this.#now)
    return this.#firstBytes === 0 ? undefined : (this.#firstBytes - began) * 1000
  }
}

function timesOf(stage: Stage): { readonly notes: readonly number[]; readonly switches: readonly number[] } {
  const notes: number[] = []
  const switches: number[] = []
  for (let index = -WARM; index < MEASURED; index++) {
    const next = (index + WARM + 1) % SONGS
    stage.graph.prepare(`song${next}`)
    for (let note = 0; note < NOTES_BETWEEN; note += CHORD.length) {
      const played = CHORD.map((key) => stage.send(0x90, key, 100))
      const last = played.at(-1)
      if (last === undefined) throw new Error('a note sent nothing')
      if (index >= 0) notes.push(last)
      if (note + CHORD.length < NOTES_BETWEEN) for (const key of CHORD) stage.send(0x80, key, 64)
    }
    const time = stage.send(0xc0, next)
    if (time === undefined || stage.graph.song !== `song${next}`) throw new Error('nothing was switched')
    if (index >= 0) switches.push(time)
    for (const key of CHORD) stage.send(0x80, key, 64)
  }
  return { notes, switches }
}

function benchShow(enter: 'cut' | 'carry'): Show {
  const ids = Array.from({ length: LAMPS }, (_, index) => `lamp${index}`)
  const players = ['keys', 'bass', 'top']
  const width = (LAMPS / PARTS) * 2
  const parsed = parseShow(
    JSON.stringify({
      format: 'lanthorn-show',
      version: 1,
      title: 'Bench',
      rig: {
        supplies: [{ id: 'bench', volts: 12, maxAmps: 1000 }],
        outputs: [{ id: 'wire', kind: 'serial', port: 'wire' }],
        lamps: ids.map((id, slot) => ({ id, output: 'wire', slot, supply: 'bench', watts: 10 })),
      },
      players: players.map((id) => ({ id, kind: 'keys', input: { port: id } })),
      songs: Array.from({ length: SONGS }, (_, song) => ({
        id: `song${song}`,
        title: `Song ${song}`,
        enter,
        parts: Array.from({ length: PARTS }, (__, part) => {
          const first = Math.floor((part * LAMPS) / PARTS)
          return {
            id: `part${part}`,
            player: players[part % players.length],
            lamps: Array.from({ length: Math.floor(width) }, (___, lamp) => ids[(first + lamp) % LAMPS]),
            strategy: KINDS[(part + song) % KINDS.length],
            duty: { controller: 74 },
          }
        }),
      })),
      switching: { controls: [{ player: 'keys', on: { kind: 'program' }, do: 'number' }] },
    }),
    strategies,
  )
  if (!parsed.ok) throw new Error(formatFaults(parsed.faults))
  return parsed.show
}

/** Prints a table for people, then one line of JSON for programs. */
export function benchSwitch(): void {
  const pairs = (['cut', 'carry'] as const).map((enter) => ({ enter, costs: switchCosts(enter) }))
  const costs = pairs.flatMap((pair) => pair.costs)
  const ratios = pairs.map(({ enter, costs: [note, change] }) => ({
    enter,
    p50OfNote: Math.round(((change?.p50Micros ?? 0) / (note?.p50Micros ?? 1)) * 100) / 100,
    p99OfNote: Math.round(((change?.p99Micros ?? 0) / (note?.p99Micros ?? 1)) * 100) / 100,
  }))
  console.log(`From bytes in to the first bytes out: ${LAMPS} lamps, songs of ${PARTS} parts`)
  console.table(costs)
  console.table(ratios)
  console.log(JSON.stringify({ node: process.version, costs, ratios }))
}
