import type { Show } from '../../../src/domain/show.ts'
import type { Control, ControlAct, ControlGesture, EnterAt } from '../../../src/domain/switching.ts'
import type { Edit, MakeEdit } from '../sheet/edit.ts'
import { insert, remove, set } from '../sheet/edit.ts'
import { isSame } from '../sheet/json.ts'

/** When songs begin that do not say it themselves. */
export function setShowEnterAt(enterAt: EnterAt): MakeEdit {
  return () => ({ label: 'When songs begin', changes: [set(['switching', 'enterAt'], enterAt)] })
}

export function addControl(control: Control): MakeEdit {
  return ({ switching }) => ({
    label: 'A control added',
    changes: [insert(['switching', 'controls', switching.controls.length], control)],
  })
}

export function changeControl(before: Control, after: Control): MakeEdit {
  return onControl(before, (path) => ({ label: 'A control', changes: [set(path, after)] }))
}

export function removeControl(control: Control): MakeEdit {
  return onControl(control, (path) => ({ label: 'A control removed', changes: [remove(path)] }))
}

/** Wherever it stands by now: no two controls are the same. */
function onControl(control: Control, make: (path: (string | number)[]) => Edit): MakeEdit {
  return ({ switching }) => {
    const place = switching.controls.findIndex((one) => isSame(one, control))
    return place < 0 ? undefined : make(['switching', 'controls', place])
  }
}

/** A control to begin with: a program change of the first player that no control has. */
export function freshControl({ players, switching }: Show): Control | undefined {
  const player = players[0]?.id
  if (player === undefined) return undefined
  const isTaken = (program: number): boolean =>
    switching.controls.some(
      ({ player: who, on }) => who === player && on.kind === 'program' && on.program === program,
    )
  for (let program = 0; program < 128; program++)
    if (!isTaken(program)) return { player, on: { kind: 'program', program }, do: 'next' }
  return undefined
}

/** The same done in another way, as far as it can be: its number and channel stay. */
export function gestureOf(kind: ControlGesture['kind'], before: ControlGesture): ControlGesture {
  const channel = before.channel === undefined ? {} : { channel: before.channel }
  const number = numberOf(before) ?? 0
  switch (kind) {
    case 'program':
      return { kind, program: number, ...channel }
    case 'controller':
      return { kind, controller: Math.min(number, 119), ...channel }
    case 'note':
      return { kind, key: number, ...channel }
  }
}

/** The program, controller or key of a gesture; undefined: any program. */
export function numberOf(on: ControlGesture): number | undefined {
  switch (on.kind) {
    case 'program':
      return on.program
    case 'controller':
      return on.controller
    case 'note':
      return on.key
  }
}

/** With that gesture; what only any program can do becomes the next song. */
export function withGesture(control: Control, on: ControlGesture): Control {
  const isAny = on.kind === 'program' && on.program === undefined
  return { ...control, on, do: control.do === 'number' && !isAny ? 'next' : control.do }
}

/** With that act; the number can only be said by a program change that may be any. */
export function withAct(control: Control, act: ControlAct): Control {
  if (act !== 'number') return { ...control, do: act }
  const { channel } = control.on
  return { ...control, on: { kind: 'program', ...(channel === undefined ? {} : { channel }) }, do: act }
}
