import type { Part } from '../../domain/song.ts'

/** Whether a part's lamps ever come to the pitch of a key: a pulse without a controller stays a pulse, whatever key is played. */
export function soundsPitch({ pulse }: Part): boolean {
  return pulse === undefined || pulse.controller !== undefined
}
