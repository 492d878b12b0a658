import type { Player } from '../../domain/player.ts'
import type { CheckFinding } from './finding.ts'
import { placeAt } from './finding.ts'
import { listed } from './listed.ts'
import type { Survey } from './survey.ts'

/** Players that listen to the same port and channel. */
export function sharedInputFindings({ show: { players } }: Survey): CheckFinding[] {
  const listeners = new Map<string, Player[]>()
  for (const player of players) {
    for (const channel of new Set(player.input.channels)) {
      const id = JSON.stringify([player.input.port, channel])
      listeners.set(id, [...(listeners.get(id) ?? []), player])
    }
  }
  // Channels with the same listeners are told together.
  const groups = new Map<string, { port: string; channels: number[]; ids: string[] }>()
  for (const [id, heard] of listeners) {
    if (heard.length < 2) continue
    const [port, channel] = JSON.parse(id) as [string, number]
    const ids = heard.map((player) => player.id)
    const key = JSON.stringify([port, ids])
    const group = groups.get(key) ?? { port, channels: [], ids }
    group.channels.push(channel)
    groups.set(key, group)
  }
  return [...groups.values()].map(({ port, channels, ids }) => ({
    gravity: 'note',
    ...placeAt(['players']),
    message:
      `players ${listed(ids)} listen to the same port "${port}", ${channels.length === 1 ? 'channel' : 'channels'} ${listed(channels.sort((a, b) => a - b).map(String), 16)}: ` +
      'each hears every note there. Where that is not meant, give each its own channels.',
  }))
}
