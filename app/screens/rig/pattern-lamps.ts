import type { ShowChange } from '../../../src/contract/to-host.ts'
import type { LampId } from '../../../src/domain/ids.ts'
import type { Pattern } from '../../../src/domain/pattern.ts'
import type { Show } from '../../../src/domain/show.ts'
import { set } from '../sheet/edit.ts'

/** Takes a lamp's rows out of every pattern, with the pads that are about them or the lamp. */
export function patternsWithout(show: Show, lamp: LampId): ShowChange[] {
  return changed(show, lamp, ({ rows, pads, ...rest }) => {
    const gone = new Set(rows.flatMap((row) => (row.lamp === lamp ? [row.id] : [])))
    return {
      ...rest,
      rows: rows.filter((row) => row.lamp !== lamp),
      pads: pads.filter(
        (pad) => !('lamp' in pad && pad.lamp === lamp) && !('row' in pad && gone.has(pad.row)),
      ),
    }
  })
}

/** Calls a lamp by another id in every pattern; rows keep their own. */
export function patternsRenamed(show: Show, from: LampId, to: LampId): ShowChange[] {
  return changed(show, from, (pattern) => ({
    ...pattern,
    rows: pattern.rows.map((row) => (row.lamp === from ? { ...row, lamp: to } : row)),
    pads: pattern.pads.map((pad) => ('lamp' in pad && pad.lamp === from ? { ...pad, lamp: to } : pad)),
  }))
}

function changed(show: Show, lamp: LampId, change: (pattern: Pattern) => Pattern): ShowChange[] {
  return show.songs.flatMap(({ patterns }, song) =>
    patterns.flatMap((pattern, at) =>
      [...pattern.rows, ...pattern.pads].some((one) => 'lamp' in one && one.lamp === lamp)
        ? [set(['songs', song, 'patterns', at], change(pattern))]
        : [],
    ),
  )
}
