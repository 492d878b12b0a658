import { existsSync } from 'node:fs'
import { resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { electronBinary, hasDisplay } from './electron-binary.ts'
import { Failure, WrongUsage } from './failure.ts'
import type { OpenArguments } from './open-in-browser.ts'
import { openInBrowser } from './open-in-browser.ts'
import { readShow } from './read-show.ts'
import { runDesktop } from './run-desktop.ts'

/** What Electron is given: the folder of package.json, which names the main process. */
const APP = fileURLToPath(new URL('..', import.meta.url))
const MAIN = fileURLToPath(new URL('./main.js', import.meta.url))

/**
 * `lanthorn open [SHOW]`: the desktop app where it can be had, else its screens in a browser. Resolves when the person has ended it. A show at fault is told
 * on standard error and on the screens, where the demo is open in its place.
 */
export async function openCommand(path: string | undefined, given: OpenArguments): Promise<void> {
  if (path === undefined && given.rig === 'real') {
    throw new WrongUsage('--rig real needs a show: the demo plays by itself, and only to lamps in memory')
  }
  const show = path === undefined ? undefined : resolve(path)
  const program = wantsBrowser(given) ? undefined : desktopProgram()
  if (program !== undefined) {
    if (show !== undefined) tellFaults(show)
    const ended = await runDesktop(program, [APP, ...(show === undefined ? [] : [show])])
    if (ended === undefined) return
    if (ended.hasStarted) throw new Failure(`The desktop app ended with ${ended.why}; look at the lamps.`)
    process.stderr.write(
      `The desktop app could not start here (${ended.why}); its screens open in a browser.\n`,
    )
  }
  await openInBrowser({ show, given, canShow: hasDisplay(process) })
}

/** The app opens in any case: whoever started it from a terminal reads here what it says on its screens. */
function tellFaults(show: string): void {
  try {
    readShow(show)
  } catch (error) {
    if (!(error instanceof Failure)) throw error
    process.stderr.write(`${error.message}\nThe demo is open in its place.\n`)
  }
}

/** The desktop app has a window and a port of its own; whoever asks for one of these means the browser. */
function wantsBrowser({ rig, port, remote, browser }: OpenArguments): boolean {
  return rig !== undefined || port !== undefined || remote === true || !browser
}

function desktopProgram(): string | undefined {
  return hasDisplay(process) && existsSync(MAIN) ? electronBinary(process.env) : undefined
}
