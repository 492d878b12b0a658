import { basename } from 'node:path'
import type { FromHost } from '../../../src/contract/from-host.ts'
import { CONTRACT_VERSION } from '../../../src/contract/version.ts'
import type { PartId, SongId } from '../../../src/domain/ids.ts'
import { checkShow } from '../../../src/offline/check-show.ts'
import { pitchRows } from '../../../src/offline/pitch-rows.ts'
import type { Place } from './entry.ts'
import type { ShowKeeper } from './show-keeper.ts'

const v = CONTRACT_VERSION

/** The show as it stands, for a screen at that place; undefined while none is open. */
export function showWord(keeper: ShowKeeper, place: Place, isLocked: boolean): FromHost | undefined {
  const { document, rig, isDemo } = keeper
  if (!document) return undefined
  const { revision, show, file, isSaved, undoLabel, redoLabel } = document
  return {
    v,
    type: 'show',
    revision,
    show,
    // Where files lie on this machine is nobody's business elsewhere.
    file: file !== null && place === 'remote' ? basename(file) : file,
    isSaved,
    undo: undoLabel,
    redo: redoLabel,
    rig,
    isDemo,
    isLocked,
  }
}

/** What each key of a part becomes on each of its lamps; undefined where there is no such part. */
export function tuningWord(keeper: ShowKeeper, song: SongId, part: PartId): FromHost | undefined {
  const { document } = keeper
  const lamps = document && pitchRows(document.show, song, part)
  if (!lamps) return undefined
  return {
    v,
    type: 'tuning',
    revision: document.revision,
    song,
    part,
    lamps: lamps.map(({ lamp, rows }) => ({ lamp, rows: [...rows] })),
  }
}

/** What would go wrong with the show; undefined while none is open. */
export function checksWord({ document }: ShowKeeper): FromHost | undefined {
  if (!document) return undefined
  return {
    v,
    type: 'checks',
    revision: document.revision,
    findings: checkShow(document.show).map((finding) => ({ ...finding })),
  }
}
