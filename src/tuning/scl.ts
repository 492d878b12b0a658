import { LONGEST_SCALE_NAME, MOST_PITCH_CENTS, MOST_PITCHES } from '../domain/scale-limits.ts'
import { SCALE_PITCH_TEXT } from '../domain/scale-pitch.ts'
import type { ScalePitch } from '../domain/tuning-spec.ts'
import type { ScaleFileFault, ScaleFileRead } from './scale-file-fault.ts'
import { foundText, scaleFault } from './scale-file-fault.ts'
import type { FileLine } from './scale-file-lines.ts'
import { fileLines, withoutEmptyEnd } from './scale-file-lines.ts'
import { pointedAt, pointedText, ratioAt, wholeAt } from './scale-file-numbers.ts'

/** What a scale file says. */
export interface Scl {
  /** Its description. */
  readonly name: string
  readonly pitches: readonly ScalePitch[]
  /** The comments before the description in one line, without the file's own name. */
  readonly about: string
  /** Lines after the last pitch, which say nothing. */
  readonly left: number
}

const PITCH = 'cents with a point, such as 701.955, or a ratio, such as 3/2'
const COUNT = `the number of pitches, from 0 to ${MOST_PITCHES}`
const DESCRIBED = 'the first line that is no comment is the description, and where there is none it is empty'

/**
 * Reads a scale file (`.scl`) by the published description of the format: a description, which may be an empty line; the number of pitches; a pitch on each
 * line. A pitch with a point is cents, another is a ratio or a whole number; what follows it, and what follows the last one, is not looked at. The 1/1 is not
 * in the file. Ratios are kept as they are written, with up to 15 digits each side; the format promises 2147483647.
 */
export function parseScl(text: string): ScaleFileRead<Scl> {
  const file = fileLines(text)
  if (!('lines' in file)) return { ok: false, faults: [file] }
  const [description, count, ...rest] = file.lines
  if (!description || !count) {
    const found = description ? 'found a description and nothing more' : 'found nothing but comments'
    return { ok: false, faults: [scaleFault(file.end, found, `a description, then ${COUNT}`, DESCRIBED)] }
  }
  const wanted = wholeAt(count.text)
  if (wanted === undefined || wanted < 0 || wanted > MOST_PITCHES)
    return { ok: false, faults: [scaleFault(count.number, foundText(count.text), COUNT, DESCRIBED)] }
  const given = withoutEmptyEnd(rest)
  const read = given.slice(0, wanted).map(pitchAt)
  const faults = read.filter((one) => typeof one === 'object')
  if (given.length < wanted) {
    const expected = `${wanted}, as line ${count.number} says`
    const hint = 'add what is missing, or put that line right'
    faults.push(scaleFault(file.end, `found ${amount(given.length, 'pitch', 'pitches')}`, expected, hint))
  }
  if (faults.length > 0) return { ok: false, faults }
  const pitches = read.filter((one) => typeof one !== 'object')
  const before = file.comments.filter(({ number }) => number < description.number)
  const left = given.length - wanted
  return { ok: true, read: { name: named(description.text), pitches, about: aboutOf(before), left } }
}

/** A scale file; `title` is the name that its first comment gives. What `parseScl` makes of it is the same scale, its name in one line. */
export function writeScl({ name, pitches }: Pick<Scl, 'name' | 'pitches'>, title: string): string {
  const plain = named(name)
  const lines = [
    `! ${title}.scl`,
    '!',
    // An exclamation mark at the very start would make it a comment.
    plain.startsWith('!') ? ` ${plain}` : plain,
    ` ${pitches.length}`,
    '!',
    ...pitches.map((pitch) => ` ${typeof pitch === 'number' ? pointedText(pitch) : pitch}`),
  ]
  return `${lines.join('\n')}\n`
}

function pitchAt({ number, text }: FileLine): ScalePitch | ScaleFileFault {
  const cents = pointedAt(text)
  if (cents !== undefined) {
    if (Math.abs(cents) <= MOST_PITCH_CENTS) return cents
    return scaleFault(number, foundText(text), `cents from -${MOST_PITCH_CENTS} to ${MOST_PITCH_CENTS}`)
  }
  const ratio = ratioAt(text)
  if (ratio !== undefined && SCALE_PITCH_TEXT.test(ratio)) return ratio
  return scaleFault(number, foundText(text), PITCH, hintFor(text, ratio))
}

function hintFor(text: string, ratio: string | undefined): string | undefined {
  const plain = text.trim()
  if (plain === '') return 'take the line out, or begin it with "!"'
  if (plain.startsWith('!')) return 'a comment has its "!" at the very start of the line'
  if (ratio !== undefined) {
    if (ratio.split('/').some((side) => /^0+$/.test(side))) return 'neither side of a ratio may be 0'
    return 'more than 15 digits are not kept exactly: reduce the ratio, or give it in cents'
  }
  if (/^-\d|^\d+\/-/.test(plain)) return 'a ratio below 0 has no pitch; cents below 0 need a point'
  if (/^\d+,\d/.test(plain)) return 'write a point, not a comma'
  if (/^\d+[ \t]*\/[ \t]*\d+(?![\d/])/.test(plain)) return 'write the ratio without blanks'
  return undefined
}

/** In one line, no longer than a show takes. */
function named(description: string): string {
  const plain = description.replace(/[\r\n\0]+/g, ' ').trim()
  if (plain.length <= LONGEST_SCALE_NAME) return plain
  const cut = plain.slice(0, LONGEST_SCALE_NAME - 1)
  // Not through the middle of a character that takes two units.
  return `${cut.replace(/[\uD800-\uDBFF]$/, '').trimEnd()}…`
}

function aboutOf(comments: readonly FileLine[]): string {
  const texts = comments.map(({ text }) => text.trim())
  const own = texts[0]?.toLowerCase().endsWith('.scl') ? texts.slice(1) : texts
  return own.filter((text) => text !== '').join(' ')
}

function amount(count: number, one: string, many: string): string {
  return count === 0 ? `no ${one}` : `${count} ${count === 1 ? one : many}`
}
