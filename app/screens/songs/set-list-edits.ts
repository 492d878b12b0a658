import type { Show } from '../../../src/domain/show.ts'
import type { Edit, MakeEdit } from '../sheet/edit.ts'
import { set } from '../sheet/edit.ts'
import { moved } from '../sheet/list-order.ts'
import { leadsSomewhere } from '../sheet/song-edits.ts'

export function moveInSetList(place: number, by: number): MakeEdit {
  return onSetList((list) => moved(list, place, place + by))
}

/** The last one stays: a set list names at least one song. Controls that lead to a place past its new end go with it. */
export function removeFromSetList(place: number): MakeEdit {
  return (show) => {
    const { setList, songs, switching } = show
    if (setList.length < 2 || setList[place] === undefined) return undefined
    const list = setList.filter((_, at) => at !== place)
    const controls = switching.controls.filter((control) => leadsSomewhere(control, list.length))
    const gone = switching.controls.length - controls.length
    const title = songs.find(({ id }) => id === setList[place])?.title ?? setList[place]
    return {
      label: `${title} off the set list${gone > 0 ? `, and controls to place ${setList.length}` : ''}`,
      changes: [set(['setList'], list), ...(gone > 0 ? [set(['switching', 'controls'], controls)] : [])],
    }
  }
}

/** At its end; a song may stand in it more than once. */
export function addToSetList(song: string): MakeEdit {
  return onSetList((list) => [...list, song])
}

function onSetList(next: (list: Show['setList']) => Show['setList']): MakeEdit {
  return (show): Edit | undefined => {
    const list = next(show.setList)
    return list === show.setList ? undefined : { label: 'Set list', changes: [set(['setList'], list)] }
  }
}
