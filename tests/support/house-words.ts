import { z } from 'zod'
import type { PadHit } from '../../src/contract/from-engine.ts'
import type { FromHost } from '../../src/contract/from-host.ts'
import type { Show } from '../../src/domain/show.ts'
import { checkShow } from '../../src/offline/check-show.ts'
import { strategies } from '../../src/strategies/registry.ts'
import { demoShow } from './demo.ts'

type WithoutVersion<T> = T extends unknown ? Omit<T, 'v'> : never
export type HostWord = WithoutVersion<FromHost>

/** What the pads did last: two strokes, and a bounce after the second. */
const HITS: PadHit[] = [
  { at: 1_480_000, key: 36, velocity: 96 },
  { at: 1_984_000, key: 38, velocity: 80 },
  { at: 1_990_000, key: 38, velocity: 31, dropped: 'mask' },
]

/** What a host says to a screen that has just come in, while the demo show plays on lamps in memory. */
export function houseWords(show: Show = demoShow()): HostWord[] {
  const song = show.setList[0] ?? ''
  return [
    {
      type: 'welcome',
      key: 'test-key',
      place: 'window',
      mayFiles: true,
      strategies: strategies.map(({ kind, options }) => ({
        kind,
        about: `what ${kind} does, in a line`,
        options: z.toJSONSchema(options, { io: 'input', unrepresentable: 'any' }) as Record<string, unknown>,
      })),
      cautions: [
        'Flashing light can trigger photosensitive seizures, in people who do not know that they have them.',
        'Lamps, wiring and supplies can burn and start fires; follow local codes and have wiring done by somebody licensed to.',
        'A lit lamp at close range can hurt eyes; the sound can be loud.',
      ],
      areCautionsRead: true,
    },
    {
      type: 'show',
      revision: 1,
      show,
      file: null,
      isSaved: true,
      undo: null,
      redo: null,
      rig: 'virtual',
      isDemo: true,
      isLocked: false,
    },
    { type: 'hello', pid: 4242 },
    { type: 'loaded', title: show.title, song, position: 0, songs: show.songs.map(({ id }) => id) },
    ...show.rig.outputs.map((output): HostWord => ({
      type: 'port',
      port: {
        id: output.id,
        kind: output.kind === 'midi' ? 'midi-out' : 'serial',
        name: output.port,
        state: 'ready',
        message: 'the lamp box answers',
      },
    })),
    ...show.players.map((player): HostWord => ({
      type: 'port',
      port: {
        id: player.id,
        kind: 'midi-in',
        name: player.input.port,
        state: 'open',
        message: `${player.input.port} is open`,
      },
    })),
    litLamps(show),
    {
      type: 'time',
      at: 2_000_000,
      beat: 9,
      tempo: 97.0625,
      isFollowed: false,
      isRunning: true,
      isQuiet: false,
    },
    {
      type: 'players',
      at: 2_000_000,
      players: show.players.map(({ id }, place) => ({
        player: id,
        keys: place === 1 ? [] : [{ key: 57 + 4 * place, velocity: 80, pedalled: false }],
        bendCents: place === 2 ? -12.5 : 0,
        heardAt: 1_990_000,
        notes: 12 * (place + 1),
        dropped: place,
        drops: { floor: 0, mask: place === 1 ? 1 : 0, crosstalk: 0, ghost: place === 2 ? 2 : 0 },
        ...(place === 1 ? { hits: HITS } : {}),
        ...(place === 2 ? { heldBack: { count: 36, mean: 18_400, max: 20_000 } } : {}),
      })),
    },
    {
      type: 'figures',
      at: 2_000_000,
      latency: { count: 120, p50: 210, p95: 420, p99: 900, max: 1400 },
      latencyBins: [
        { upTo: 128, count: 10 },
        { upTo: 256, count: 70 },
        { upTo: 512, count: 34 },
        { upTo: 1024, count: 5 },
        { upTo: 2048, count: 1 },
      ],
      lateness: { count: 40, p50: 90, p95: 200, p99: 300, max: 600 },
      counts: { 'notes in': 72, steals: 3 },
    },
    {
      type: 'diagnostic',
      at: 1_500_000,
      diagnostic: {
        level: 'warning',
        source: 'wire',
        code: 'box-differs',
        message: 'the lamp box has another timer than the show says',
      },
    },
  ]
}

/** Every second lamp lit, by the parts of the first song in turn. */
export function litLamps(show: Show): HostWord {
  const parts = show.songs[0]?.parts ?? []
  return {
    type: 'lamps',
    at: 2_000_000,
    lamps: show.rig.lamps.map(({ id }, place) => {
      const part = parts[place % Math.max(1, parts.length)]
      if (place % 2 === 1 || !part) return { lamp: id, on: false }
      const key = 57 + place
      const hz = 440 * 2 ** ((key - 69) / 12)
      return {
        lamp: id,
        on: true,
        part: part.id,
        player: part.player,
        key,
        hz,
        realHz: hz * 0.99999,
        cents: -0.0173,
        duty: Math.min(0.5, 0.08 + 0.05 * place),
      }
    }),
  }
}

/** What `checks` says of a show. */
export function checkWords(show: Show = demoShow()): HostWord {
  return { type: 'checks', revision: 1, findings: checkShow(show).map((finding) => ({ ...finding })) }
}
