/** Something a person may want to know: who says it, what it is, in words one can act on. */
export interface Diagnostic {
  readonly level: 'info' | 'warning' | 'fault'
  /** Where: a player, part, output or stage. */
  readonly source: string
  /** A fixed word to count by. */
  readonly code: string
  readonly message: string
}
