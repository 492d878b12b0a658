import type { Field, NamedField, NumberRange } from './form-model.ts'
import type { Json } from './json.ts'

/** Middle C: where keys begin that nobody has chosen yet. */
const FIRST_KEY = 60

/** A valid value to begin with, for a part with these lamps. `place`: in a list, so that its entries differ. */
export function startOf(field: Field, lamps: readonly string[], place = 0): Json {
  switch (field.kind) {
    case 'choice':
      return field.choices[0] ?? null
    case 'switch':
      return false
    case 'number':
      return field.isKey
        ? Math.min(127, FIRST_KEY + place)
        : (field.example ?? numberStart(field.range, place))
    case 'text':
      if (field.format === 'take') return place === 0 ? 'take.mid' : `take-${place + 1}.mid`
      return field.format === 'note-value' ? '1/8' : 'x'.repeat(field.least)
    case 'pattern':
      // As the first of a song is called; there may be none yet.
      return 'pattern'
    case 'lamp':
      return lamps[place % Math.max(1, lamps.length)] ?? ''
    case 'lamps':
      return [...lamps]
    case 'list': {
      const count = field.isPerLamp ? lamps.length : field.least
      return Array.from({ length: Math.min(count, field.most ?? count) }, (_, at) =>
        startOf(field.item, lamps, at),
      )
    }
    case 'group':
      return requiredOf(field.fields, lamps)
    case 'variants': {
      const [first] = field.variants
      return first ? startOf(first, lamps, place) : null
    }
    case 'json':
      return null
  }
}

/** The fields that may not be left out, each with a value to begin with. */
export function requiredOf(fields: readonly NamedField[], lamps: readonly string[]): Record<string, Json> {
  return Object.fromEntries(
    fields
      .filter(({ isRequired }) => isRequired)
      .map(({ name, field, usual }) => [name, usual ?? startOf(field, lamps)]),
  )
}

/** 1, 2, 3 … as far as the range lets them; where it goes both ways, nothing. */
function numberStart({ isWhole, least, most, above, below }: NumberRange, place: number): number {
  if (least !== undefined && least < 0) return Math.min(0, most ?? 0)
  const wanted = place + 1
  const low = least ?? (above === undefined ? -Infinity : isWhole ? Math.floor(above) + 1 : above + 1e-3)
  const high = most ?? (below === undefined ? Infinity : isWhole ? Math.ceil(below) - 1 : below - 1e-3)
  return Math.max(low, Math.min(high, wanted))
}
