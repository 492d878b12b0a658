/** Shows how far long work is, on a terminal; silent elsewhere. */
export interface Progress {
  show(done: number): void
  end(): void
}

const WIDTH = 30
/** Faster than this nobody needs to see it. */
const QUIET_MS = 300

export function createProgress(what: string, out: NodeJS.WriteStream = process.stderr): Progress {
  const began = performance.now()
  let shown = -1
  return {
    show(done) {
      const percent = Math.floor(done * 100)
      if (!out.isTTY || percent === shown || performance.now() - began < QUIET_MS) return
      shown = percent
      const full = Math.round(done * WIDTH)
      out.write(`\r${what} ${'#'.repeat(full)}${'-'.repeat(WIDTH - full)} ${String(percent).padStart(3)} %`)
    },
    end() {
      if (shown >= 0) out.write(`\r${' '.repeat(what.length + WIDTH + 8)}\r`)
    },
  }
}
