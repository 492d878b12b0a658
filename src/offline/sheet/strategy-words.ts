import type { LampId } from '../../domain/ids.ts'
import type { Pattern } from '../../domain/pattern.ts'
import type { Part, Song, StrategySpec } from '../../domain/song.ts'
import { patternsPlayed } from '../../strategies/steps-ready.ts'
import { keyName } from '../check/key-spans.ts'
import { strategyReach } from '../check/strategy-reach.ts'

type NameOf = (lamp: LampId) => string

/** How a part's notes find lamps, with every option that bears on it. */
export function strategyWords(part: Part, song: Song, nameOf: NameOf): string {
  const { strategy } = part
  switch (strategy.kind) {
    case 'unison':
      return sentence('one voice on all lamps', [
        priorityWords(strategy),
        detuneWords(strategy),
        spreadWords(strategy),
        strategy['retrigger'] === true ? 'legato notes are struck anew' : 'legato notes go on without a gap',
      ])
    case 'lowest-free':
      return sentence('each note takes the first free lamp', [stealWords(strategy), resumeWords(strategy)])
    case 'rotate':
      return sentence('each note takes the next lamp in turn', [stealWords(strategy), resumeWords(strategy)])
    case 'nearest':
      return sentence('each note takes the free lamp whose last pitch is closest', [
        stealWords(strategy),
        resumeWords(strategy),
      ])
    case 'travel':
      return sentence(`one voice that moves over the lamps, ${pathWords(strategy['path'], nameOf)}`, [
        moveWords(strategy['move']),
        strategy['width'] === 1 ? '' : `${strategy['width']} lamps wide`,
        strategy['overlapMs'] === 0 ? '' : `a lamp left sounds on ${strategy['overlapMs']} ms`,
        priorityWords(strategy),
      ])
    case 'chime':
      return sentence('each lamp answers to its own key, as it is played', [chimeWords(part, song, nameOf)])
    case 'partials':
      return sentence('one voice spread over the lamps as its partials', [
        strategyReach(part, song)
          .map(({ lamp, ratio }) => `${nameOf(lamp)} ${ratio}`)
          .join(', '),
        priorityWords(strategy),
      ])
    case 'canon':
      return sentence('each lamp repeats the line of the one before', [
        strategy['delayMs'] === undefined
          ? `${valueWords(strategy['delay'])} later`
          : `${valueWords(strategy['delayMs'])} ms later`,
        priorityWords(strategy),
      ])
    case 'steps': {
      const [first, ...others] = patternsPlayed(song, strategy)
      const next = others.map(({ name }) => name).join(', ')
      return sentence('a pattern of steps, a row for each lamp', [
        first ? `${first.name}, ${movedWords(first)}` : '',
        next === '' ? '' : `then, by a pad, ${next}`,
        strategy['starts'] === 'song' ? 'its clock starts with the song' : '',
      ])
    }
    default:
      return sentence(
        strategy.kind,
        Object.entries(strategy)
          .filter(([option]) => option !== 'kind')
          .map(([option, value]) => `${option} ${valueWords(value)}`),
      )
  }
}

function sentence(start: string, clauses: readonly string[]): string {
  return [start, ...clauses.filter((clause) => clause !== '')].join('; ')
}

const PRIORITIES: Readonly<Record<string, string>> = {
  last: 'of held keys the last struck sounds',
  first: 'of held keys the first struck sounds',
  low: 'of held keys the lowest sounds',
  high: 'of held keys the highest sounds',
}

function priorityWords({ priority }: StrategySpec): string {
  return PRIORITIES[String(priority)] ?? ''
}

function stealWords({ steal }: StrategySpec): string {
  return steal === 'none'
    ? 'where none is free, it stays dark'
    : `where none is free, the ${valueWords(steal)} note gives way`
}

function resumeWords({ resume }: StrategySpec): string {
  return resume === true ? 'a note that lost its lamp comes back when one frees' : ''
}

function detuneWords({ detuneCents }: StrategySpec): string {
  if (!Array.isArray(detuneCents) || detuneCents.every((cents) => cents === 0)) return ''
  return `detuned by ${detuneCents.join(', ').replaceAll('-', '\u2212')} cents, lamp by lamp`
}

function spreadWords({ spreadCents }: StrategySpec): string {
  if (typeof spreadCents !== 'number' || spreadCents === 0) return ''
  return `spread evenly over ${spreadCents} cents, from its first lamp to its last`
}

const WAYS: Readonly<Record<string, string>> = {
  forward: 'from the first to the last',
  backward: 'from the last to the first',
  pendulum: 'there and back',
  inward: 'from both ends inward',
  outward: 'from the middle outward',
  shuffle: 'in an order shuffled each round',
}

function pathWords(path: unknown, nameOf: NameOf): string {
  if (Array.isArray(path)) return `by way of ${path.map((lamp) => nameOf(String(lamp))).join(', ')}`
  return WAYS[String(path)] ?? valueWords(path)
}

function moveWords(move: unknown): string {
  if (typeof move === 'object' && move !== null) {
    if ('every' in move) return `a move every ${valueWords(move.every)}`
    if ('everyMs' in move) return `a move every ${valueWords(move.everyMs)} ms`
  }
  return move === 'note' ? 'a move with each note' : `a move: ${valueWords(move)}`
}

function movedWords({ advance, division }: Pattern): string {
  if (advance === 'hit') return 'moved by hits'
  return `moved every ${division}${advance === 'both' ? ' and by hits' : ''}`
}

/** The keys that are played for a chime, before the part transposes them. */
function chimeWords(part: Part, song: Song, nameOf: NameOf): string {
  return strategyReach(part, song)
    .map(({ lamp, key = 0 }) => {
      const played = key - part.transpose
      return `${nameOf(lamp)} ${played < 0 || played > 127 ? `${played}, which no key is` : keyName(played)}`
    })
    .join(', ')
}

function valueWords(value: unknown): string {
  return typeof value === 'string' || typeof value === 'number' ? String(value) : JSON.stringify(value)
}
