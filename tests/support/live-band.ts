import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { scratchFolder } from './scratch.ts'
import { glasshouse } from './shows.ts'

/** A show on four lamps of one lamp box: the keys have three, the bass one; its second song has other lamps. The file's path. */
export function liveShow(boxPath: string, more: Record<string, unknown> = {}): string {
  const part = (id: string, player: string, lamps: string[], kind: string) => ({
    id,
    player,
    lamps,
    strategy: { kind },
    duty: { base: 0.25 },
  })
  const show = glasshouse({
    rig: {
      supplies: [{ id: 'bench', volts: 12, maxAmps: 10 }],
      outputs: [{ id: 'wire', kind: 'serial', port: boxPath }],
      lamps: ['fern', 'moss', 'reed', 'sedge'].map((id, slot) => ({
        id,
        output: 'wire',
        slot,
        supply: 'bench',
        watts: 10,
      })),
    },
    players: [
      { id: 'keys', kind: 'keys', input: { port: 'Keybed' } },
      { id: 'bass', kind: 'keys', input: { port: 'Bass' } },
    ],
    songs: [
      {
        id: 'tide',
        title: 'Tide table',
        parts: [
          part('lead', 'keys', ['fern', 'moss', 'reed'], 'lowest-free'),
          part('low', 'bass', ['sedge'], 'unison'),
        ],
      },
      { id: 'dew', title: 'Dew point', parts: [part('lead', 'keys', ['sedge', 'reed'], 'lowest-free')] },
    ],
    ...more,
  } as never)
  const path = join(scratchFolder(), 'show.json')
  writeFileSync(path, JSON.stringify(show))
  return path
}
