import type { ClockSettings } from '../../../src/domain/clock-settings.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Edit, MakeEdit } from '../sheet/edit.ts'
import { remove, set } from '../sheet/edit.ts'
import { NOT_CHOSEN } from './wiring-edits.ts'

export function addClockPort({ clock }: Show): Edit {
  return sendingTo([...clock.send, NOT_CHOSEN], 'clock sent to one port more')
}

export function setClockPort(place: number, port: string): MakeEdit {
  return ({ clock }) =>
    place < clock.send.length
      ? sendingTo(
          clock.send.map((one, at) => (at === place ? port : one)),
          'port that is sent a clock',
        )
      : undefined
}

export function removeClockPort(place: number): MakeEdit {
  return ({ clock }) =>
    place < clock.send.length
      ? sendingTo(
          clock.send.filter((_, at) => at !== place),
          `clock sent to ${clock.send[place]} no more`,
        )
      : undefined
}

/** Undefined: songs have the tempo they say. */
export function setFollowed(port: string | undefined): MakeEdit {
  const path = ['clock', 'follow']
  return ({ clock }) => {
    if (port !== undefined) return { label: 'clock that is followed', changes: [set(path, port)] }
    return clock.follow === undefined
      ? undefined
      : { label: 'clock followed no more', changes: [remove(path)] }
  }
}

export function followOne(): Edit {
  return { label: 'a clock followed', changes: [set(['clock', 'follow'], NOT_CHOSEN)] }
}

export function setAfterSleep(afterSleep: ClockSettings['afterSleep']): MakeEdit {
  return () => ({ label: 'beats after a sleep', changes: [set(['clock', 'afterSleep'], afterSleep)] })
}

function sendingTo(send: readonly string[], label: string): Edit {
  return { label, changes: [set(['clock', 'send'], [...send])] }
}
