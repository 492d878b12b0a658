import type { Stage, Step, Wake } from '../domain/stage.ts'
import type { Beats, Bpm, Micros } from '../domain/units.ts'
import type { ClockCount, ClockPlace } from '../time/clock-count.ts'
import {
  beatsOfPlace,
  clockAfter,
  countAtTempo,
  CLOCKS_A_BEAT,
  placeAt,
  placeOfBeats,
  startCount,
  timeOfClock,
} from '../time/clock-count.ts'
import {
  CLOCKS_A_SIXTEENTH,
  CONTINUE,
  SONG_POSITION,
  START,
  STOP,
  TIMING_CLOCK,
} from '../time/clock-message.ts'

/** Song positions have fourteen bits. */
const POSITIONS = 0x4000
/** From Start to the clock that is its downbeat, so that whoever follows is ready for it. */
export const START_TO_CLOCK: Micros = 1_000
/** From Song Position and Continue to their clock: 1.3 ms of wire at 31,250 baud, and as long again to go there. */
const CONTINUE_TO_CLOCK: Micros = 3_000
/** Clocks that are later than this are not sent any more: who follows is told anew where the song is. */
export const LATEST_CLOCK: Micros = 100_000
/** A beat told from outside that differs from our own by less, in clocks, is the same: floating point. */
const SAME_CLOCK = 0.01

export type ClockOutIn =
  /** A song begins: here is its beat 0. `bar` in beats. */
  | { readonly kind: 'start'; readonly tempo: Bpm; readonly bar: Beats }
  /** The song's beats have this tempo from now on. */
  | { readonly kind: 'tempo'; readonly tempo: Bpm }
  /** The beats stand here now and go on at this tempo; tempo 0: they stand still. */
  | { readonly kind: 'beats'; readonly beats: Beats; readonly tempo: Bpm }
  /** The beats stand still; `since`: they have done so since that time, and nothing was sent. */
  | { readonly kind: 'stop'; readonly since?: Micros }
  /** They go on from where they stand. */
  | { readonly kind: 'go-on' }
  /** A port is there, or is not. */
  | { readonly kind: 'found'; readonly port: number }
  | { readonly kind: 'lost'; readonly port: number }
  /** Nothing is sent any more. */
  | { readonly kind: 'close' }
  | Wake

/** One MIDI message for one port, by its place in the list. */
export interface ClockOut {
  readonly port: number
  readonly bytes: readonly number[]
}

/** A number: it is told to go on from that clock, a sixteenth. `with`: it goes on with us. */
type Follower = 'away' | 'still' | 'with' | number

export interface ClockOutState {
  /** Null: there never was a tempo. */
  readonly count: ClockCount | null
  /** The next clock to be sent. */
  readonly next: number
  /** Where the beats stand still meanwhile; null: they move. */
  readonly stands: ClockPlace | null
  readonly notBefore: Micros
  readonly bar: Beats
  readonly ports: readonly Follower[]
}

type Moved = Step<ClockOutState, ClockOut>

/**
 * When each byte of a MIDI clock is due. Clocks go on at the tempo while the beats stand still, so that who follows keeps the tempo; it is told by Stop that the
 * song does not move. A song that begins is Stop, where another one moved, and Start at its beat 0: the next clock is its downbeat. A port that comes later, and
 * all of them when beats go on, get Song Position and Continue at the next sixteenth.
 */
export const clockOut: Stage<{ readonly ports: number }, ClockOutState, ClockOutIn, ClockOut> = {
  name: 'clock-out',
  start: ({ ports }) => ({
    count: null,
    next: 0,
    stands: { clocks: 0, parts: 0 },
    notBefore: 0,
    bar: 4,
    ports: Array.from({ length: ports }, (): Follower => 'away'),
  }),
  step(state, event, now) {
    const due = event.kind === 'stop' && event.since !== undefined ? { state, out: [] } : sendDue(state, now)
    const next = happen(due.state, event, now)
    const { count, next: clock, notBefore, ports } = next.state
    const isHeard = ports.some((port) => port !== 'away')
    const wake = count && isHeard ? Math.max(timeOfClock(count, clock), notBefore, now) : undefined
    return { state: next.state, out: [...due.out, ...next.out], wake }
  },
}

/** Where the song is at a time: what its followers are at, or will be. */
export function placeOfSong({ count, stands }: ClockOutState, now: Micros): ClockPlace {
  return stands ?? (count ? placeAt(count, now) : { clocks: 0, parts: 0 })
}

function happen(state: ClockOutState, event: ClockOutIn, now: Micros): Moved {
  const { count } = state
  switch (event.kind) {
    case 'start':
      return begin({ ...state, bar: event.bar }, event.tempo, now)
    case 'tempo':
      return { state: { ...state, count: count && countAtTempo(count, event.tempo, now) }, out: [] }
    case 'beats':
      return rebase(state, event.beats, event.tempo, now)
    case 'stop':
      return standStill(state, event.since ?? now, now)
    case 'go-on':
      return count && state.stands ? goOn(state, state.stands, count, now) : { state, out: [] }
    case 'found': {
      const there = withPort(state, event.port, 'still')
      return state.stands || !count ? { state: there, out: [] } : allWait(there, now)
    }
    case 'lost':
      return { state: withPort(state, event.port, 'away'), out: [] }
    case 'close':
      return {
        state: { ...state, ports: state.ports.map((): Follower => 'away') },
        out: toAll(state, isWith, [STOP]),
      }
    case 'wake':
      return { state, out: [] }
  }
}

/** All clocks up to now; where they are too late, none, and who follows is led to where the song is. */
function sendDue(state: ClockOutState, now: Micros): Moved {
  const { count } = state
  if (!count) return { state, out: [] }
  const dueOf = (clock: number, notBefore: Micros): Micros => Math.max(timeOfClock(count, clock), notBefore)
  if (now - dueOf(state.next, state.notBefore) > LATEST_CLOCK) return skip(state, count, now)
  const out: ClockOut[] = []
  let { next, ports } = state
  while (dueOf(next, state.notBefore) <= now) {
    out.push(...toAll({ ports }, isThere, [TIMING_CLOCK]))
    next++
    const at = next
    out.push(...toAll({ ports }, (port) => port === at, position(state, at), [CONTINUE]))
    ports = ports.map((port) => (port === at ? 'with' : port))
  }
  return { state: { ...state, next, ports }, out }
}

function skip(state: ClockOutState, count: ClockCount, now: Micros): Moved {
  const next = clockAfter(count, now)
  if (state.stands) return { state: { ...state, next }, out: [] }
  const out = toAll(state, isWith, [STOP])
  const waiting = allWait({ ...state, next, ports: state.ports.map(still) }, now)
  return { state: waiting.state, out: [...out, ...waiting.out] }
}

function begin(state: ClockOutState, tempo: Bpm, now: Micros): Moved {
  const out = [...toAll(state, isWith, [STOP]), ...toAll(state, isThere, [START])]
  const ports = state.ports.map((port): Follower => (port === 'away' ? port : 'with'))
  const notBefore = now + START_TO_CLOCK
  return { state: { ...state, count: startCount(now, tempo), next: 0, stands: null, notBefore, ports }, out }
}

function standStill(state: ClockOutState, since: Micros, now: Micros): Moved {
  const { count, stands, ports } = state
  if (!count || stands) return { state, out: [] }
  const place = placeAt(count, Math.max(since, count.at))
  const next = since < now ? clockAfter(count, now) : state.next
  return {
    state: { ...state, stands: place, next, ports: ports.map(still) },
    out: toAll(state, isWith, [STOP]),
  }
}

function goOn(state: ClockOutState, place: ClockPlace, count: ClockCount, now: Micros): Moved {
  const moving = { ...count, ...place, at: now }
  const next = place.parts === 0 ? place.clocks : place.clocks + 1
  return allWait({ ...state, count: moving, next, stands: null, ports: state.ports.map(still) }, now)
}

function rebase(state: ClockOutState, beats: Beats, tempo: Bpm, now: Micros): Moved {
  const { count, stands } = state
  const place = placeOfBeats(beats)
  if (tempo === 0) {
    const stopped = standStill(state, now, now)
    return { ...stopped, state: { ...stopped.state, stands: place } }
  }
  const isSame =
    count && !stands && Math.abs(beatsOfPlace(placeAt(count, now)) - beats) * CLOCKS_A_BEAT < SAME_CLOCK
  if (isSame) return { state: { ...state, count: countAtTempo(count, tempo, now) }, out: [] }
  if (beats === 0) return begin(state, tempo, now)
  const moved = goOn(state, place, startCount(now, tempo), now)
  return { state: moved.state, out: [...toAll(state, isWith, [STOP]), ...moved.out] }
}

/** Every port that stands still goes on at the next sixteenth that leaves it time to. */
function allWait(state: ClockOutState, now: Micros): Moved {
  const { count, next } = state
  if (!count) return { state, out: [] }
  const sixteenth = Math.ceil(next / CLOCKS_A_SIXTEENTH) * CLOCKS_A_SIXTEENTH
  const isNow = sixteenth === next && timeOfClock(count, next) - now >= CONTINUE_TO_CLOCK
  const from = sixteenth === next && !isNow ? sixteenth + CLOCKS_A_SIXTEENTH : sixteenth
  const ports = state.ports.map((port) => (port === 'still' ? (isNow ? 'with' : from) : port))
  const isStill = (port: Follower): boolean => port === 'still'
  const out = isNow ? toAll(state, isStill, position(state, from), [CONTINUE]) : []
  return { state: { ...state, ports }, out }
}

/** A place that fourteen bits cannot say is told as one that many whole bars before. */
function position({ bar }: ClockOutState, clock: number): number[] {
  const sixteenths = bar * 4
  const most = Math.max(1, Math.floor(POSITIONS / sixteenths)) * sixteenths
  const place = (clock / CLOCKS_A_SIXTEENTH) % most
  return [SONG_POSITION, place & 0x7f, place >> 7]
}

function toAll(
  { ports }: Pick<ClockOutState, 'ports'>,
  whom: (port: Follower) => boolean,
  ...messages: readonly (readonly number[])[]
): ClockOut[] {
  return ports.flatMap((follower, port) => (whom(follower) ? messages.map((bytes) => ({ port, bytes })) : []))
}

function withPort(state: ClockOutState, port: number, follower: Follower): ClockOutState {
  return { ...state, ports: state.ports.map((one, place) => (place === port ? follower : one)) }
}

function still(port: Follower): Follower {
  return port === 'away' ? port : 'still'
}

function isThere(port: Follower): boolean {
  return port !== 'away'
}

function isWith(port: Follower): boolean {
  return port === 'with'
}
