import type { FileError, FileWarning } from './file.ts'

/** One line for a person: where, what, what was done. */
export function describeWarning(warning: FileWarning): string {
  const track = warning.track === 0 ? '' : `track ${warning.track}, `
  const times = warning.times === 1 ? '' : ` (${warning.times} times)`
  return `${track}byte ${warning.offset}: ${warning.what}${times}; ${warning.done}`
}

/** One line for a person: what, where, what to do. */
export function describeFileError(error: FileError): string {
  return `${error.what} (${error.where}). ${error.todo}`
}
