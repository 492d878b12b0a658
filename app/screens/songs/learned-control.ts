import type { Player } from '../../../src/domain/player.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { ControlGesture } from '../../../src/domain/switching.ts'
import type { HouseView } from '../controllers/house-view.ts'

type Learned = NonNullable<HouseView['learned']>

/** Who did what, of something that was heard while learning; or why it cannot be a control. */
export type LearnedControl =
  { readonly player: Player; readonly on: ControlGesture } | { readonly why: string }

/** Controllers from 120 on are channel mode messages (MIDI 1.0), which instruments send by themselves. */
const FIRST_MODE_MESSAGE = 120

/** Whether it may become a control. */
export function isGesture({ key, controller, program }: Learned): boolean {
  return (
    key !== undefined ||
    program !== undefined ||
    (controller !== undefined && controller < FIRST_MODE_MESSAGE)
  )
}

/** The channel is asked for where the player listens to more than one: else it says nothing. */
export function learnedControl({ players }: Show, heard: Learned): LearnedControl {
  const there = players.filter(({ input }) => input.port === heard.port)
  const player = there.find(({ input }) => input.channels.includes(heard.channel))
  if (!player) {
    const [near] = there
    return {
      why: near
        ? `${near.name} listens there, but not to channel ${heard.channel}; the Rig says to which.`
        : 'No player listens to that port; the Rig says who listens where.',
    }
  }
  const channel = player.input.channels.length > 1 ? { channel: heard.channel } : {}
  const { key, controller, program } = heard
  if (key !== undefined) return { player, on: { kind: 'note', key, ...channel } }
  if (program !== undefined) return { player, on: { kind: 'program', program, ...channel } }
  if (controller !== undefined && controller < FIRST_MODE_MESSAGE)
    return { player, on: { kind: 'controller', controller, ...channel } }
  return { why: 'That is no key, controller or program change.' }
}
