import { isAbsolute, resolve } from 'node:path'

/** Show files among a command line's words, as whole paths; switches and everything else are left out. */
export function showsInArguments(words: readonly string[], folder: string): string[] {
  return words
    .filter((word) => !word.startsWith('-') && word.toLowerCase().endsWith('.json'))
    .map((word) => (isAbsolute(word) ? word : resolve(folder, word)))
}

/** Whether what came from outside this process may be a path. */
export function isPath(raw: unknown): raw is string {
  return typeof raw === 'string' && raw.length > 0 && raw.length <= 4096
}
