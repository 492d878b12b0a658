import type { FlashGuard } from '../../../src/domain/flash-guard.ts'
import type { MakeEdit } from './edit.ts'
import { set } from './edit.ts'
import { setSongField } from './song-edits.ts'

/** The show's flash guard, whole: one step for undo, whatever of it is other. */
export function setFlashGuard(guard: FlashGuard): MakeEdit {
  return () => ({ label: flashLabel(guard), changes: [set(['guards', 'flash'], guard)] })
}

/** A song's own flash guard; undefined: as the show has it. */
export function setSongFlash(song: string, guard: FlashGuard | undefined): MakeEdit {
  return setSongField(song, 'flash', guard, guard ? flashLabel(guard) : 'flash guard')
}

/** What becomes of lamps past what a supply may give. */
export function setSupplyGuard(action: string): MakeEdit {
  return () => ({ label: 'supply guard', changes: [set(['guards', 'supply', 'action'], action)] })
}

function flashLabel(guard: FlashGuard): string {
  return guard.action === 'off' ? `flash guard off since ${guard.since}` : 'flash guard'
}
