import type { HouseView, Word } from '../controllers/house-view.ts'

const GRAVITY: Readonly<Record<Word['level'], number>> = { info: 0, warning: 1, fault: 2 }
export const LEVEL_NAMES: Readonly<Record<Word['level'], string>> = {
  info: 'Note',
  warning: 'Warning',
  fault: 'Fault',
}

/** Words after the one that was read last. */
export function unread({ words }: HouseView, read: number): readonly Word[] {
  return words.filter(({ count }) => count > read)
}

/** The gravest; of equally grave ones the latest. */
export function gravest(words: readonly Word[]): Word | undefined {
  return words.reduce<Word | undefined>(
    (found, word) => (found && GRAVITY[found.level] > GRAVITY[word.level] ? found : word),
    undefined,
  )
}
