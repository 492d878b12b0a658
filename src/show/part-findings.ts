import type { AnyStrategyRules } from '../domain/strategy-rules.ts'
import type { Cursor } from './cursor.ts'
import { field, items, numberOf, textOf } from './cursor.ts'
import { quote } from './found.ts'
import type { Finding } from './show-fault.ts'

/** What does not go together in a part: a lamp named twice, a key range upside down, two duty sources, options against lamps. */
export function partFindings(show: Cursor, strategies: readonly AnyStrategyRules[]): Finding[] {
  return items(field(show, 'songs'))
    .flatMap((song) => items(field(song, 'parts')))
    .flatMap((part) => [
      ...lampsTwice(field(part, 'lamps')),
      ...keyRange(field(part, 'notes')),
      ...dutySources(field(part, 'duty')),
      ...optionFindings(part, strategies),
    ])
}

function lampsTwice(lamps: Cursor): Finding[] {
  const seen = new Set<string>()
  return items(lamps).flatMap((lamp) => {
    const id = textOf(lamp)
    if (id === undefined) return []
    if (!seen.has(id)) {
      seen.add(id)
      return []
    }
    return [{ path: lamp.path, found: `lamp ${quote(id)} is listed twice`, expected: 'each lamp once' }]
  })
}

function keyRange(notes: Cursor): Finding[] {
  const [low, high] = items(notes).map(numberOf)
  if (low === undefined || high === undefined || low <= high) return []
  return [
    { path: notes.path, found: `found [${low}, ${high}]`, expected: 'the lowest key, then the highest' },
  ]
}

const DUTY_SOURCES = ['controller', 'velocity', 'keys', 'sweepSeconds'] as const

function dutySources(duty: Cursor): Finding[] {
  const given = DUTY_SOURCES.filter((name) => {
    const { value } = field(duty, name)
    return value !== undefined && value !== false
  })
  const [first, second] = given
  const both =
    first === undefined || second === undefined
      ? []
      : [{ path: duty.path, found: `found both "${first}" and "${second}"`, expected: 'one of the two' }]
  return [...both, ...keyRange(field(duty, 'keys'))]
}

function optionFindings(part: Cursor, strategies: readonly AnyStrategyRules[]): Finding[] {
  const strategy = field(part, 'strategy')
  const rules = strategies.find(({ kind }) => kind === field(strategy, 'kind').value)
  const lamps = items(field(part, 'lamps')).map(textOf)
  if (!rules?.check || !lamps.every((lamp) => lamp !== undefined)) return []
  const { kind: _, ...given } = strategy.value as Record<string, unknown>
  const options = rules.options.safeParse(given)
  // Options that do not parse are faults already, told where they stand.
  if (!options.success) return []
  return rules.check(options.data, lamps).map(({ option, message }) => ({
    path: [...strategy.path, option],
    found: message,
    expected: '',
  }))
}
