import type { PlayerEvent } from '../../src/domain/player-event.ts'
import type { Cents, Channel, Micros } from '../../src/domain/units.ts'
import type { Said } from './stage-run.ts'

/** A note as it was told: struck, or a voice that went on legato. */
export interface HeardNote {
  readonly channel: Channel
  readonly at: Micros
  readonly heldBack: Micros
  readonly isLegato: boolean
  /** Infinity: it never ended. */
  endsAt: Micros
  /** Key and bend together in cents above key 0, from each time on. */
  readonly pitch: { readonly at: Micros; readonly cents: Cents }[]
}

interface Voice {
  note: HeardNote
  key: number
}

/** What conditioning told of, as notes with their pitch. */
export function heardNotes(said: readonly Said<PlayerEvent>[]): HeardNote[] {
  const notes: HeardNote[] = []
  const voices = new Map<number, Voice>()
  const bends = new Map<Channel, Cents>()
  const begin = (
    id: number,
    channel: Channel,
    key: number,
    at: Micros,
    more: { heldBack: Micros; isLegato: boolean },
  ): void => {
    const pitch = [{ at, cents: key * 100 + (bends.get(channel) ?? 0) }]
    const note = { channel, at, endsAt: Infinity, pitch, ...more }
    notes.push(note)
    voices.set(id, { note, key })
  }
  for (const { at, out } of said) {
    if (out.kind === 'note-on')
      begin(out.note, out.channel, out.key, at, { heldBack: out.heldBack ?? 0, isLegato: false })
    if (out.kind === 'note-rekey') {
      const voice = voices.get(out.note)
      if (!voice) throw new Error(`Note ${out.note} changes key, but does not sound`)
      const { channel } = voice.note
      if (out.legato) {
        voice.note.endsAt = at
        begin(out.note, channel, out.key, at, { heldBack: out.heldBack ?? 0, isLegato: true })
      } else {
        voice.key = out.key
        voice.note.pitch.push({ at, cents: out.key * 100 + (bends.get(channel) ?? 0) })
      }
    }
    if (out.kind === 'note-off') {
      const voice = voices.get(out.note)
      if (!voice) throw new Error(`Note ${out.note} ends, but does not sound`)
      voice.note.endsAt = at
      voices.delete(out.note)
    }
    if (out.kind === 'bend') {
      bends.set(out.channel, out.cents)
      for (const { note, key } of voices.values())
        if (note.channel === out.channel) note.pitch.push({ at, cents: key * 100 + out.cents })
    }
  }
  return notes
}

/** The pitch at a time; before the first, undefined. */
export function pitchAt(
  pitch: readonly { readonly at: Micros; readonly cents: Cents }[],
  at: Micros,
): Cents | undefined {
  return pitch.findLast((one) => one.at <= at)?.cents
}
