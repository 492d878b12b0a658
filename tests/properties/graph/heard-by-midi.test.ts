import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { LampState } from '../../../src/domain/lamp-state.ts'
import { DARK } from '../../../src/domain/lamp-state.ts'
import { centsBetween } from '../../../src/domain/pitch.ts'
import type { Micros } from '../../../src/domain/units.ts'
import { knownTuning, tuningTable } from '../../../src/tuning/tuning.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { MidiEar } from '../../support/midi-ear.ts'
import { checkProperty } from '../../support/property.ts'
import { validShow } from '../../support/valid-show.ts'

const LAMPS = ['fern', 'moss', 'reed']
const PROGRAM = 9

const tuning = fc.oneof(
  fc.record({
    kind: fc.constant('equal'),
    steps: fc.constantFrom(12, 13, 17, 19, 22, 31, 53),
    periodCents: fc.constantFrom(1200, 1901.955, 1197.3),
    refNote: fc.constantFrom(60, 69),
    refHz: fc.constantFrom(440, 432, 261.3),
  }),
  fc.record({
    kind: fc.constant('scale'),
    pitches: fc.constantFrom(
      ['9/8', '5/4', '4/3', '3/2', '5/3', '15/8', '2'],
      [
        76.049,
        193.157,
        310.265,
        386.314,
        503.422,
        579.471,
        696.578,
        772.627,
        889.735,
        1006.843,
        1082.892,
        '2',
      ],
      [146.304231, '3'],
    ),
    refNote: fc.constant(60),
    refHz: fc.constantFrom(256, 261.625565),
    map: fc.constantFrom(undefined, {
      first: 20,
      last: 100,
      middle: 60,
      formalOctave: 4,
      degrees: [0, null, 1, 2],
    }),
  }),
)
const output = fc.record({
  layout: fc.constantFrom('channel-per-lamp', 'mpe'),
  bendRange: fc.constantFrom(2, 5, 12, 48),
  bendBits: fc.constantFrom(7, 8, 10, 14),
  dutyController: fc.constantFrom(undefined, 74),
  form: fc.constantFrom('keys', 'bulk'),
})
const what = fc.oneof(
  { weight: 6, arbitrary: fc.integer({ min: 40, max: 80 }).map((key) => ({ bytes: [0x90, key, 90] })) },
  { weight: 4, arbitrary: fc.integer({ min: 40, max: 80 }).map((key) => ({ bytes: [0x80, key, 64] })) },
  { weight: 3, arbitrary: fc.nat(16383).map((bend) => ({ bytes: [0xe0, bend & 127, bend >> 7] })) },
  { weight: 1, arbitrary: fc.constant({ reopen: true as const }) },
  { weight: 1, arbitrary: fc.nat(2).map((tune) => ({ tune })) },
  { weight: 1, arbitrary: fc.constant({ dark: true as const }) },
  { weight: 1, arbitrary: fc.constantFrom('tide', 'ebb').map((song) => ({ song })) },
)
const steps = fc.array(fc.tuple(fc.constantFrom(0, 700, 9_000, 90_000), what), {
  minLength: 5,
  maxLength: 30,
})
const part = fc.record({
  strategy: fc.constantFrom({ kind: 'unison' }, { kind: 'lowest-free' }, { kind: 'partials' }),
  glide: fc.constantFrom(undefined, { ms: 60, when: 'legato' }, { centsPerSecond: 4000, when: 'always' }),
  vibrato: fc.constantFrom(undefined, { cents: 30, hz: 6 }),
})
const songs = fc.record({ tide: part, ebb: part, enter: fc.constantFrom('cut', 'carry') })

test('an instrument that knows nothing but the bytes sounds what frames say, also after it was plugged in again, and another one the whole tuning', () => {
  checkProperty(
    'heard by MIDI',
    fc.property(
      fc.tuple(tuning, tuning, tuning),
      output,
      songs,
      steps,
      (tunings, { form, ...din }, how, played) => {
        const show = validShow(JSON.parse(JSON.stringify(raw(tunings, { ...din, form }, how))))
        const run = new GraphRun(show)
        let at = 0
        const opened: Micros[] = []
        for (const [after, one] of played) {
          at = Math.max(at + after, run.graph.now)
          if ('bytes' in one) run.graph.play('keys', one.bytes, at)
          else if ('tune' in one) run.graph.tune(one.tune === 2 ? null : `t${one.tune}`, true, at)
          else if ('song' in one) run.graph.changeSong(one.song, at)
          else if ('dark' in one) run.graph.darkAll(at)
          else {
            run.graph.advance(at)
            run.graph.reopen('din', (at += 1))
            opened.push(at)
          }
        }
        run.graph.advance(at + 1_000_000)
        listen(run, din, opened)
        const ear = new MidiEar(din.bendBits)
        const last = opened.at(-1) ?? 0
        for (const event of run.of('bytes')) if (event.at >= last) ear.take(event.bytes)
        const wanted = run.graph.tuning ?? show.songs.find(({ id }) => id === run.graph.song)?.tuning
        const known = knownTuning(show.tunings, wanted)
        if (!known) throw new Error(`no tuning ${wanted}`)
        tuningTable(known).forEach((hz, key) => {
          if (hz === undefined || hz < 8.18 || hz > 13_289) return
          // Half a step of 100/16384 cent (MIDI Tuning Standard).
          expect(Math.abs(centsBetween(ear.tunedHz(PROGRAM, key), hz))).toBeLessThanOrEqual(0.00306)
        })
        expect(ear.longest).toBe(form === 'keys' ? 40 : 408)
      },
    ),
    300,
  )
})

function raw(
  tunings: readonly unknown[],
  din: Record<string, unknown>,
  how: { tide: object; ebb: object; enter: string },
) {
  const { form, ...rest } = din
  return {
    format: 'lanthorn-show',
    version: 1,
    title: 'Glasshouse',
    rig: {
      supplies: [{ id: 'bench', volts: 12, maxAmps: 50 }],
      outputs: [{ id: 'din', kind: 'midi', port: 'Box', ...rest, mts: { form, program: PROGRAM } }],
      lamps: LAMPS.map((id, slot) => ({ id, output: 'din', slot, supply: 'bench', watts: 10 })),
    },
    players: [{ id: 'keys', kind: 'keys', input: { port: 'Keybed' } }],
    tunings: tunings.map((one, index) => ({ id: `t${index}`, ...(one as object) })),
    songs: [song('tide', 't2', how.tide, how.enter), song('ebb', 't1', how.ebb, how.enter)],
  }
}

function song(id: string, tuning: string, part: object, enter: string) {
  const parts = [{ id: 'lead', player: 'keys', lamps: LAMPS, ...part }]
  return { id, title: id, tuning, enter, parts }
}

/** At the end of each moment: every lamp as the frames say it, every channel as it sounds. */
function listen(
  run: GraphRun,
  { layout, bendRange, bendBits }: { layout: string; bendRange: number; bendBits: number },
  opened: readonly Micros[],
): void {
  let ear = new MidiEar(bendBits)
  const waiting = [...opened]
  const lamps: LampState[] = LAMPS.map(() => DARK)
  const half = (bendRange * 100) / 2 ** bendBits
  const first = layout === 'mpe' ? 2 : 1
  const compare = (): void =>
    lamps.forEach((lamp, slot) => {
      const heard = ear.pitch(first + slot)
      expect(heard !== undefined).toBe(lamp.on)
      if (!lamp.on || heard === undefined) return
      expect(Math.abs(lamp.cents)).toBeLessThanOrEqual(half + 1e-6)
      expect(Math.abs(centsBetween(lamp.realHz, lamp.hz))).toBeLessThanOrEqual(half + 1e-6)
      expect(Math.abs(centsBetween(heard, lamp.realHz))).toBeLessThanOrEqual(1e-6)
    })
  let now = 0
  for (const event of run.events) {
    if (event.at > now) compare()
    now = event.at
    if (waiting[0] === now) {
      waiting.shift()
      // Another instrument on the same cable.
      ear = new MidiEar(bendBits)
    }
    if (event.kind === 'bytes') ear.take(event.bytes)
    if (event.kind === 'frame') for (const { index, state } of event.changes) lamps[index] = state
  }
  compare()
}
