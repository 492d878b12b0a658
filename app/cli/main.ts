import { Midi } from 'tonal'

console.log(Midi.midiToNoteName(69))
