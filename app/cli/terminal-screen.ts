import type { WriteStream } from 'node:tty'

/** Prints lines that stay, and draws a few at the bottom that change. Where there is no terminal only the lines that stay. */
export interface Screen {
  print(line: string): void
  stand(lines: readonly string[]): void
  /** Calls for each key pressed; returns what puts the terminal back. */
  keys(pressed: (key: string) => void): () => void
}

/** Undefined: nothing is shown at all. */
export function createScreen(out: NodeJS.WriteStream | undefined): Screen {
  let drawn = 0
  const wipe = (): void => {
    if (drawn > 0) out?.write(`\u001b[${drawn}A\u001b[0J`)
    drawn = 0
  }
  return {
    print(line) {
      wipe()
      out?.write(`${line}\n`)
    },
    stand(lines) {
      if (!out?.isTTY) return
      wipe()
      // A terminal that does not know its size says 0.
      const most = Math.max(1, ((out as WriteStream).rows || 24) - 2)
      const width = Math.max(10, ((out as WriteStream).columns || 80) - 1)
      const shown = lines.slice(0, most).map((line) => line.slice(0, width))
      out.write(`${shown.join('\n')}\n`)
      drawn = shown.length
    },
    keys(pressed) {
      const { stdin } = process
      if (!stdin.isTTY) return () => {}
      stdin.setRawMode(true)
      stdin.setEncoding('utf8')
      const hear = (text: string): void => {
        for (const key of text) pressed(key)
      }
      stdin.on('data', hear)
      return () => {
        stdin.off('data', hear)
        stdin.setRawMode(false)
        stdin.pause()
      }
    },
  }
}
