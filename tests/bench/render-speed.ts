import { nextRandom } from '../../src/domain/random.ts'
import type { MidiMessage } from '../../src/domain/midi-message.ts'
import type { Take, TakeEvent } from '../../src/offline/take.ts'
import { render } from '../../src/offline/render.ts'
import { benchShow } from './bench-show.ts'

export interface RenderSpeed {
  readonly what: string
  readonly seconds: number
  /** Seconds of music worked out in one second. */
  readonly timesRealTime: number
}

const LAMPS = 8
const SECONDS = 300

/** A busy player: about eight notes a second, each held a while, over four octaves. */
function take(): Take {
  const events: TakeEvent[] = []
  let seed = 7
  const random = (): number => {
    const drawn = nextRandom(seed)
    seed = drawn.seed
    return drawn.value
  }
  let notesIn = 0
  for (let at = 0; at < SECONDS * 1e6; at += Math.round(60_000 + random() * 130_000)) {
    const key = 36 + Math.floor(random() * 48)
    const on: MidiMessage = { type: 'note-on', channel: 1, key, velocity: 1 + Math.floor(random() * 127) }
    const off: MidiMessage = { type: 'note-off', channel: 1, key, velocity: 64 }
    events.push(
      { at, player: 'keys', message: on },
      { at: at + Math.round(100_000 + random() * 500_000), player: 'keys', message: off },
    )
    notesIn++
  }
  events.sort((a, b) => a.at - b.at)
  return { events, endsAt: SECONDS * 1e6, notesIn, wholeTracks: new Set(['keys']), warnings: [] }
}

export function renderSpeeds(): RenderSpeed[] {
  const show = benchShow(LAMPS, { kind: 'lowest-free' })
  const music = take()
  const files = { lamp: () => {}, bytes: () => {} }
  return [
    measure('without sound', () => render(show, 'song', music, files)),
    measure('with sound', () => render(show, 'song', music, { ...files, sound: () => {} })),
  ]
}

function measure(what: string, work: () => { report: { seconds: number } }): RenderSpeed {
  work()
  const began = performance.now()
  const { report } = work()
  const took = (performance.now() - began) / 1000
  return {
    what: `${what}, ${LAMPS} lamps`,
    seconds: report.seconds,
    timesRealTime: Math.round(report.seconds / took),
  }
}
