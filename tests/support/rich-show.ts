import type { RawShow } from './shows.ts'

/** A valid show that uses every kind of player and output, and every strategy there is. */
export function richShow(): RawShow {
  const wide = ['fern', 'moss', 'reed', 'sedge']
  const part = (id: string, player: string, strategy: RawShow): RawShow => ({
    id,
    player,
    lamps: wide,
    strategy,
  })
  return {
    format: 'lanthorn-show',
    version: 1,
    title: 'Glasshouse, second night',
    rig: {
      supplies: [{ id: 'bench', volts: 12, maxAmps: 5, usable: 0.8 }],
      outputs: [
        { id: 'wire', kind: 'serial', port: '/dev/ttyUSB0', timer: { prescalers: [1, 8, 64], bits: 16 } },
        { id: 'din', kind: 'midi', port: 'Lamp box', layout: 'channel-per-lamp', dutyController: 74 },
        { id: 'zone', kind: 'midi', port: 'Lamp box 2', layout: 'mpe' },
        { id: 'relays', kind: 'midi', port: 'Lamp box 3', layout: 'note-per-lamp', firstNote: 40 },
      ],
      lamps: [
        {
          id: 'fern',
          name: 'Fern',
          output: 'wire',
          slot: 0,
          supply: 'bench',
          watts: 10,
          x: -0.5,
          trimCents: -3,
        },
        { id: 'moss', output: 'din', slot: 0, supply: 'bench', watts: 10, lowHz: 30, highHz: 2000 },
        { id: 'reed', output: 'zone', slot: 1, supply: 'bench', watts: 4.5, minDuty: 0.1, maxDuty: 0.4 },
        { id: 'sedge', output: 'relays', slot: 7, supply: 'bench', watts: 10, delayMs: 4 },
      ],
    },
    thru: [{ player: 'keys', to: 'din', pass: ['controllers', 'bend'], channel: 16 }],
    players: [
      { id: 'keys', kind: 'keys', input: { port: 'Keybed', channels: [1] }, bendRange: 2 },
      {
        id: 'pads',
        kind: 'pads',
        input: { port: 'Pads', channels: [10] },
        floor: 8,
        curve: 'soft',
        pads: [
          { key: 38, name: 'Snare', floor: 4, maskMs: 8.5, gateMs: 90, curve: 'hard' },
          {
            key: 36,
            name: 'Kick',
            curve: [
              [1, 20],
              [64, 90],
              [127, 127],
            ],
          },
        ],
      },
      { id: 'bass', kind: 'strings', input: { port: 'Bass', channels: [1, 2, 3, 4] }, minNoteMs: 20 },
    ],
    tunings: [
      { id: 'even', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 440 },
      { id: 'thirds', kind: 'equal', steps: 19, periodCents: 1200, refNote: 60, refHz: 261.6 },
    ],
    songs: [
      {
        id: 'tide',
        title: 'Tide table',
        tempo: 97.0625,
        parts: [
          part('lead', 'keys', { kind: 'lowest-free', steal: 'quietest', resume: false }),
          part('low', 'bass', { kind: 'unison', priority: 'low', detuneCents: [0, 3, -3, 0] }),
          part('line', 'keys', { kind: 'travel', path: ['reed', 'fern'], move: { every: '1/16' }, width: 2 }),
          part('drift', 'keys', { kind: 'travel', path: 'pendulum', move: { everyMs: 90 }, overlapMs: 5 }),
        ],
      },
      {
        id: 'ebb',
        title: 'Ebb',
        tuning: 'thirds',
        enter: 'carry',
        parts: [
          {
            ...part('bells', 'pads', { kind: 'chime', notes: [60, 62, 64, 65] }),
            notes: [36, 84],
            duty: { base: 0.3, velocity: true },
            claim: { when: 'playing' },
            gapMs: 8,
          },
          { ...part('stack', 'bass', { kind: 'partials', ratios: [1, 1.5, 2] }), duty: { controller: 1 } },
          part('round', 'keys', { kind: 'canon', delay: '1/4' }),
          { ...part('turn', 'keys', { kind: 'rotate', steal: 'none' }), transpose: -12 },
          part('close', 'keys', { kind: 'nearest' }),
          part('grid', 'pads', { kind: 'steps', pattern: 'four', starts: 'song' }),
        ],
        patterns: [
          { id: 'five', rows: [{ lamp: 'moss', steps: [60, 0, 'rest', null, { note: 64, gate: 2 }] }] },
          {
            id: 'four',
            name: 'Four',
            advance: 'both',
            division: '1/8',
            swing: 0.25,
            gate: 0.75,
            gateMs: 80,
            accentTimes: 2,
            rows: [
              { lamp: 'fern', steps: [60, { note: 67, duty: 0.2, accent: true, chance: 0.5 }], swing: 0 },
              { id: 'low', lamp: 'fern', steps: [0, 0, 0, 48], muted: true },
            ],
            pads: [
              { key: 36, do: 'advance' },
              { key: 38, do: 'mute-row', row: 'low' },
              { key: 40, do: 'next-pattern' },
              { key: 42, do: 'note', lamp: 'reed', note: 72, duty: 0.3 },
            ],
          },
        ],
      },
    ],
    setList: ['ebb', 'tide', 'ebb'],
    guards: { supply: { action: 'warn' } },
  }
}
