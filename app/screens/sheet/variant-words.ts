import { nameWords, valueWords } from './field-words.ts'
import type { Field } from './form-model.ts'

/** What a way of saying a value is called where one of several is chosen. */
export function variantWords(field: Field): string {
  switch (field.kind) {
    case 'choice':
      return field.choices.length === 1 ? valueWords(field.choices[0]) : 'one of a list'
    case 'number':
      return field.isKey ? 'a key' : 'a number'
    case 'switch':
      return 'yes or no'
    case 'text':
      return field.format === 'note-value' ? 'a note value' : 'text'
    case 'pattern':
      return 'a pattern'
    case 'lamp':
      return 'a lamp'
    case 'lamps':
      return 'lamps in an order of its own'
    case 'list':
      return 'a list'
    case 'group':
      return field.fields
        .filter(({ isRequired }) => isRequired || field.fields.length === 1)
        .map(({ name, field: one }) => groupedWords(name, one))
        .join(' and ')
    case 'variants':
      return field.variants.map(variantWords).join(' or ')
    case 'json':
      return 'written in JSON'
  }
}

/** "every: a note value", "every: ms" */
function groupedWords(name: string, field: Field): string {
  const { label, unit } = nameWords(name)
  return `${label}: ${unit || variantWords(field)}`
}
