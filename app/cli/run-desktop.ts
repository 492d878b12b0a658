import { spawn } from 'node:child_process'

/** An app that ends with a fault so soon has never shown a window. */
const STARTING_MS = 4_000

/**
 * Runs the desktop app until it ends. Resolves to undefined when it ended as it should, to what is the matter when it could not start, and to the code it ended with when it
 * failed later.
 */
export function runDesktop(
  program: string,
  words: readonly string[],
): Promise<undefined | { readonly why: string; readonly hasStarted: boolean }> {
  const { ELECTRON_RUN_AS_NODE: _, ...env } = process.env
  const begun = performance.now()
  const child = spawn(program, words, { stdio: 'inherit', env })
  // Ctrl-C reaches the app as well, which may ask before it ends; we end when it has.
  const wait = (): void => {}
  const end = (): void => void child.kill('SIGTERM')
  process.on('SIGINT', wait)
  process.on('SIGTERM', end)
  process.on('SIGHUP', end)
  return new Promise((resolve) => {
    const over = (why: string | undefined): void => {
      process.off('SIGINT', wait)
      process.off('SIGTERM', end)
      process.off('SIGHUP', end)
      const hasStarted = performance.now() - begun > STARTING_MS
      resolve(why === undefined ? undefined : { why, hasStarted })
    }
    child.once('error', (error) => over(error.message))
    child.once('exit', (code, signal) => over(code === 0 ? undefined : (signal ?? `code ${code}`)))
  })
}
