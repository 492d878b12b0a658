import { MOST_PITCH_CENTS, MOST_PITCHES } from '../../../src/domain/scale-limits.ts'
import { pitchCents, SCALE_PITCH_TEXT } from '../../../src/domain/scale-pitch.ts'
import type { ScalePitch } from '../../../src/domain/tuning-spec.ts'

const CENTS_TEXT = /^[-+]?(\d+\.\d*|\.\d+)$/

export interface ReadPitches {
  readonly pitches: readonly ScalePitch[]
  /** What cannot be taken, with its line. */
  readonly faults: readonly string[]
}

/**
 * Pitches as they are typed, one a line, or several with blanks, semicolons, or commas and blanks between them: with a point they are cents (701.955, 700.),
 * else ratios (3/2, 2).
 */
export function readPitches(text: string): ReadPitches {
  const pitches: ScalePitch[] = []
  const faults: string[] = []
  for (const [at, line] of text.split(/\r\n|\r|\n/).entries()) {
    for (const word of line.split(/[\s;]+|,(?=\s|$)/).filter((one) => one !== '')) {
      const pitch = pitchOf(word.replace('\u2212', '-'))
      if (typeof pitch === 'object') faults.push(`Line ${at + 1}: found ${word}; ${pitch.fault}.`)
      else pitches.push(pitch)
    }
  }
  if (pitches.length > MOST_PITCHES)
    faults.push(`There are ${pitches.length} pitches; expected ${MOST_PITCHES} at most.`)
  return { pitches, faults }
}

function pitchOf(word: string): ScalePitch | { readonly fault: string } {
  if (CENTS_TEXT.test(word)) {
    const cents = Number(word)
    return Math.abs(cents) <= MOST_PITCH_CENTS
      ? cents
      : { fault: `expected cents up to ${MOST_PITCH_CENTS} either way` }
  }
  if (SCALE_PITCH_TEXT.test(word)) return word
  if (word.includes(',')) return { fault: 'cents are written with a point, and pitches parted by a blank' }
  if (word.startsWith('-')) return { fault: 'a ratio is above 0; cents need a point, such as \u22125.0' }
  return { fault: 'expected a ratio such as 3/2, or cents with a point such as 701.955' }
}

/** Such that it is read as the same pitches again, one a line. */
export function pitchesText(pitches: readonly ScalePitch[]): string {
  return pitches.map(pitchText).join('\n')
}

/** Cents always with a point: `700.`, `701.955`. */
export function pitchText(pitch: ScalePitch): string {
  if (typeof pitch === 'string') return pitch
  const plain = String(pitch)
  const tiny = /^(-?)(\d)\.?(\d*)e-(\d+)$/.exec(plain)
  if (tiny) return `${tiny[1]}0.${'0'.repeat(Number(tiny[4]) - 1)}${tiny[2]}${tiny[3]}`
  return plain.includes('.') ? plain : `${plain}.`
}

/** `7 pitches up to 2 (1200 cents), where it repeats` */
export function pitchesWords(pitches: readonly ScalePitch[]): string {
  const last = pitches.at(-1)
  if (last === undefined) return 'No pitch: every key sounds the reference pitch.'
  const cents = Number(pitchCents(last).toFixed(3))
  const size = typeof last === 'string' ? `${last}, ${cents} cents` : `${cents} cents`
  return `${pitches.length} ${pitches.length === 1 ? 'pitch' : 'pitches'}; it repeats at ${size}.`
}
