import { BEND_CENTRE, centsToBend } from '../../src/domain/bend.ts'
import type { MidiMessage } from '../../src/domain/midi-message.ts'
import { midiKeyToHz } from '../../src/domain/pitch.ts'
import { nextRandom, type Seed } from '../../src/domain/random.ts'
import type { Cents, Channel, Key, Micros, Velocity } from '../../src/domain/units.ts'

/** Open strings of a four-string bass in fourths, E1 A1 D2 G2: 41.203, 55, 73.416 and 97.999 Hz (equal temperament, A4 440 Hz). */
export const OPEN: readonly Key[] = [28, 33, 38, 43]
/** A message of three bytes at 31,250 baud, ten bits each (MIDI 1.0 Detailed Specification). */
const WIRE: Micros = 960
const RANGE = 12
const ms = 1_000

export interface Sent {
  readonly at: Micros
  readonly message: MidiMessage
}

/** What was really played and is to be heard. */
export interface PlayedNote {
  readonly string: number
  /** When the finger did it, and when the converter first said so. */
  readonly playedAt: Micros
  readonly saidAt: Micros
  readonly endSaidAt: Micros
  /** The converter's own pitch of it, from each time on, in cents above key 0; octaves it had wrong are right here. */
  readonly pitch: readonly { readonly at: Micros; readonly cents: Cents }[]
  /** A hammer-on, pull-off or slide: no new strike. */
  readonly isLegato: boolean
  /** A slide that goes on over a semitone: nothing need be waited for. */
  readonly isSlide: boolean
  /** When a wrong octave was ended, before the right one was said; null: there was no such gap. */
  readonly wrongUntil: Micros | null
}

export interface Performance {
  readonly sent: readonly Sent[]
  readonly notes: readonly PlayedNote[]
  /** Note-ons that were no notes: fingers that damp. */
  readonly ghosts: number
}

export type Gesture =
  | 'pluck'
  | 'octave-by-note'
  | 'octave-by-bend'
  | 'flicker'
  | 'hammer'
  | 'bend-slide'
  | 'fret-slide'
  | 'crossing'
  | 'ghost'

export const GESTURES: readonly Gesture[] = [
  'pluck',
  'octave-by-note',
  'octave-by-bend',
  'flicker',
  'hammer',
  'bend-slide',
  'fret-slide',
  'crossing',
  'ghost',
]
/** What can be told apart with all strings on one channel, where nothing bends and every key is on its own. */
export const ON_ONE_CHANNEL: readonly Gesture[] = ['pluck', 'octave-by-note', 'flicker', 'crossing', 'ghost']

/**
 * A bass through a pitch-to-MIDI converter, worked out from its strings: a pitch is known one to two periods after the pluck (24.27 to 48.54 ms on a low E), a first
 * guess may be an octave up, a long note flickers up an octave, slides bend or change key at semitones, damping makes ghosts. The same seed plays the same.
 */
export function playBassPhysics(
  seed: Seed,
  count: number,
  {
    gestures = GESTURES,
    isOneChannel = false,
  }: { gestures?: readonly Gesture[]; isOneChannel?: boolean } = {},
): Performance {
  const player = new Bassist(seed, isOneChannel)
  for (let n = 0; n < count; n++) player.play(gestures[player.draw(0, gestures.length - 1)] ?? 'pluck')
  return player.performance
}

class Bassist {
  readonly #sent: Sent[] = []
  readonly #notes: PlayedNote[] = []
  readonly #isOneChannel: boolean
  #ghosts = 0
  #seed: Seed
  #now: Micros = 100 * ms

  constructor(seed: Seed, isOneChannel: boolean) {
    this.#seed = seed
    this.#isOneChannel = isOneChannel
  }

  get performance(): Performance {
    return { sent: this.#sent.toSorted((a, b) => a.at - b.at), notes: this.#notes, ghosts: this.#ghosts }
  }

  /** A whole number, both ends included. */
  draw(low: number, high: number): number {
    const { value, seed } = nextRandom(this.#seed)
    this.#seed = seed
    return low + Math.floor(value * (high - low + 1))
  }

  play(gesture: Gesture): void {
    const string = this.draw(0, 3)
    const key = (OPEN[string] ?? 28) + this.draw(0, 9)
    switch (gesture) {
      case 'pluck':
        return this.#pluck(string, key)
      case 'octave-by-note':
        return this.#octaveByNote(string, key)
      case 'octave-by-bend':
        return this.#octaveByBend(string, key)
      case 'flicker':
        return this.#flicker(string, key)
      case 'hammer':
        return this.#hammer(string, key)
      case 'bend-slide':
        return this.#bendSlide(string, key)
      case 'fret-slide':
        return this.#fretSlide(string, key)
      case 'crossing':
        return this.#crossing(key)
      case 'ghost':
        return this.#ghost(string, key)
    }
  }

  /** A few cents sharp at first, as a string that was pulled far. */
  #pluck(string: number, key: Key): void {
    const { at, played } = this.#onset(key)
    const steps = this.#isOneChannel ? [] : [12, 8, 4, 0]
    steps.forEach((cents, step) => this.#bend(string, at + step * 12 * ms, cents))
    const onAt = at + (steps.length > 0 ? WIRE : 0)
    this.#on(string, onAt, key)
    const end = onAt + this.draw(80, 400) * ms
    this.#off(string, end, key)
    const pitch = [
      { at: onAt, cents: key * 100 + (steps[0] ?? 0) },
      ...steps.slice(1).map((cents, step) => ({ at: at + (step + 1) * 12 * ms, cents: key * 100 + cents })),
    ]
    this.#note(string, played, onAt, end, pitch)
    this.#rest(end)
  }

  /** Found an octave up, and put right a period later: before or after the old key ends. */
  #octaveByNote(string: number, key: Key): void {
    const { at, played } = this.#onset(key + 12)
    this.#on(string, at, key + 12)
    const right = at + Math.min(30 * ms, this.#period(key))
    const isOffFirst = this.draw(0, 1) === 0
    this.#off(string, isOffFirst ? right : right + WIRE, key + 12)
    const rightAt = isOffFirst ? right + WIRE : right
    this.#on(string, rightAt, key)
    const end = right + this.draw(80, 400) * ms
    this.#off(string, end, key)
    const wrongUntil = isOffFirst ? right : null
    this.#note(string, played, at, end, [{ at: rightAt, cents: key * 100 }], { wrongUntil })
    this.#rest(end)
  }

  #octaveByBend(string: number, key: Key): void {
    const { at, played } = this.#onset(key + 12)
    this.#on(string, at, key + 12)
    const right = at + Math.min(30 * ms, this.#period(key))
    this.#bend(string, right, -1200)
    const end = right + this.draw(80, 400) * ms
    this.#off(string, end, key + 12)
    this.#note(string, played, at, end, [{ at: right, cents: key * 100 }])
    this.#rest(end)
    this.#bend(string, this.#now, 0)
  }

  /** A long note decays until its second partial is the stronger for a moment. */
  #flicker(string: number, key: Key): void {
    const { at, played } = this.#onset(key)
    this.#on(string, at, key)
    const away = at + this.draw(200, 400) * ms
    const back = away + this.draw(6, 18) * ms
    this.#change(string, away, key, key + 12)
    this.#change(string, back, key + 12, key)
    const end = back + this.draw(100, 300) * ms
    this.#off(string, end, key)
    this.#note(string, played, at, end, [{ at, cents: key * 100 }])
    this.#rest(end)
  }

  /** A finger hammered on, and pulled off again. */
  #hammer(string: number, key: Key): void {
    const { at, played } = this.#onset(key)
    const keys = [key, key + this.draw(1, 4), key]
    let from = at
    this.#on(string, at, key)
    keys.forEach((one, place) => {
      const until = from + this.draw(70, 200) * ms
      const next = keys[place + 1]
      if (next === undefined) this.#off(string, until, one)
      else {
        this.#on(string, until, next)
        this.#off(string, until + WIRE, one)
      }
      const isLegato = place > 0
      this.#note(string, isLegato ? from : played, from, until, [{ at: from, cents: one * 100 }], {
        isLegato,
      })
      from = until
    })
    this.#rest(from)
  }

  /** Up to twelve semitones by the bend alone, a message a period. */
  #bendSlide(string: number, key: Key): void {
    const { at, played } = this.#onset(key)
    this.#on(string, at, key)
    const reach = this.draw(1, 11) * 100 * (this.draw(0, 1) === 0 ? 1 : -1)
    const slow = 60 * ms
    const steps = this.draw(5, 30)
    const pitch = [{ at, cents: key * 100 }]
    let time = at + slow
    for (let step = 1; step <= steps; step++) {
      const cents = this.#bend(string, time, (reach * step) / steps)
      pitch.push({ at: time, cents: key * 100 + cents })
      time += this.draw(3, 12) * ms
    }
    const end = time + this.draw(50, 200) * ms
    this.#off(string, end, key)
    this.#note(string, played, at, end, pitch)
    this.#rest(end)
    this.#bend(string, this.#now, 0)
  }

  /** Over frets: the bend goes half a semitone up, then key and bend change in one burst, in an order of the converter's own. */
  #fretSlide(string: number, key: Key): void {
    const { at, played } = this.#onset(key)
    this.#on(string, at, key)
    const frets = this.draw(2, 7)
    const order = this.draw(0, 2)
    let from = at
    let time = at + 60 * ms
    let pitch = [{ at, cents: key * 100 }]
    for (let fret = 0; fret < frets; fret++) {
      const here = key + fret
      for (const cents of fret === 0 ? [15, 30, 45] : [-15, 15, 45]) {
        pitch.push({ at: time, cents: here * 100 + this.#bend(string, time, cents) })
        time += 6 * ms
      }
      const changed = time + WIRE
      const messages = [
        (): void => void this.#bend(string, order === 1 ? changed : time, -45),
        (): void => this.#on(string, order === 1 ? time : changed, here + 1),
        (): void => this.#off(string, order === 2 ? time - WIRE / 2 : changed + WIRE, here),
      ]
      for (const message of messages) message()
      const isFirst = fret === 0
      this.#note(string, isFirst ? played : from, from, changed, pitch, {
        isLegato: !isFirst,
        isSlide: !isFirst,
      })
      from = changed
      pitch = [{ at: changed, cents: (here + 1) * 100 - 45 }]
      time = changed + 6 * ms
    }
    const last = key + frets
    pitch.push({ at: time, cents: last * 100 + this.#bend(string, time, 0) })
    const end = time + this.draw(50, 200) * ms
    this.#off(string, end, last)
    this.#note(string, from, from, end, pitch, { isLegato: true, isSlide: true })
    this.#rest(end)
  }

  /** The next note is on the next string, while the first still rings. */
  #crossing(key: Key): void {
    const low = this.draw(0, 2)
    const first = (OPEN[low] ?? 28) + (key % 5)
    const second = (OPEN[low + 1] ?? 33) + (key % 4)
    const { at, played } = this.#onset(first)
    this.#on(low, at, first)
    const over = at + this.draw(80, 200) * ms
    const saidAt = over + this.#late(second)
    this.#on(low + 1, saidAt, second)
    const firstEnd = saidAt + this.draw(2, 60) * ms
    this.#off(low, firstEnd, first)
    const end = saidAt + this.draw(100, 300) * ms
    this.#off(low + 1, end, second)
    this.#note(low, played, at, firstEnd, [{ at, cents: first * 100 }])
    this.#note(low + 1, over, saidAt, end, [{ at: saidAt, cents: second * 100 }])
    this.#rest(end)
  }

  /** A finger damps the string and brushes it. */
  #ghost(string: number, key: Key): void {
    const at = this.#now
    this.#on(string, at, key, 20)
    this.#off(string, at + this.draw(2, 18) * ms, key)
    this.#ghosts++
    this.#rest(at + 20 * ms)
  }

  #onset(key: Key): { readonly at: Micros; readonly played: Micros } {
    const played = this.#now
    return { at: played + this.#late(key), played }
  }

  /** One to two periods of the string. */
  #late(key: Key): Micros {
    return Math.round((this.#period(key) * this.draw(100, 200)) / 100)
  }

  #period(key: Key): Micros {
    return Math.round(1e6 / midiKeyToHz(key))
  }

  #rest(from: Micros): void {
    this.#now = from + this.draw(60, 200) * ms
  }

  #channel(string: number): Channel {
    return this.#isOneChannel ? 1 : string + 1
  }

  #on(string: number, at: Micros, key: Key, velocity: Velocity = this.draw(60, 110)): void {
    this.#sent.push({ at, message: { type: 'note-on', channel: this.#channel(string), key, velocity } })
  }

  #off(string: number, at: Micros, key: Key): void {
    this.#sent.push({ at, message: { type: 'note-off', channel: this.#channel(string), key, velocity: 64 } })
  }

  /** From one key to another, in either order. */
  #change(string: number, at: Micros, from: Key, to: Key): void {
    const isOffFirst = this.draw(0, 1) === 0
    this.#off(string, isOffFirst ? at : at + WIRE, from)
    this.#on(string, isOffFirst ? at + WIRE : at, to)
  }

  /** Returns what 14 bits make of it. */
  #bend(string: number, at: Micros, cents: Cents): Cents {
    const value = cents === 0 ? BEND_CENTRE : centsToBend(cents, RANGE)
    this.#sent.push({ at, message: { type: 'bend', channel: this.#channel(string), value } })
    return ((value - BEND_CENTRE) / BEND_CENTRE) * RANGE * 100
  }

  #note(
    string: number,
    playedAt: Micros,
    saidAt: Micros,
    endSaidAt: Micros,
    pitch: PlayedNote['pitch'],
    { isLegato = false, isSlide = false, wrongUntil = null }: Partial<PlayedNote> = {},
  ): void {
    this.#notes.push({ string, playedAt, saidAt, endSaidAt, pitch, isLegato, isSlide, wrongUntil })
  }
}
