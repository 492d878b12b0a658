import { Note } from 'tonal'
import { describe, expect, it } from 'vitest'
import { noteName } from '../../../app/screens/wording/note-name.ts'

describe('note names', () => {
  it('agree with tonal on every MIDI key', () => {
    for (let key = 0; key <= 127; key++) {
      expect(noteName(key).replace('\u2212', '-'), `key ${key}`).toBe(Note.fromMidiSharps(key))
    }
  })

  it('call middle C, key 60, C4 and the tuning fork, key 69, A4', () => {
    expect([noteName(60), noteName(69), noteName(0)]).toEqual(['C4', 'A4', 'C\u22121'])
  })

  it('call a key between two keys after the nearer one, also below 0', () => {
    expect([noteName(60.4), noteName(60.6), noteName(-0.2), noteName(-1)]).toEqual([
      'C4',
      'C#4',
      'C\u22121',
      'B\u22122',
    ])
  })
})
