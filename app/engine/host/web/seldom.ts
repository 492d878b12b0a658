/** A call that is made at once, but not again within so many milliseconds: what is asked for meanwhile is done once, after them. */
export function createSeldom(everyMs: number, call: () => void): { (): void; stop(): void } {
  let timer: NodeJS.Timeout | undefined
  let isWanted = false
  const run = (): void => {
    isWanted = false
    timer = setTimeout(() => {
      timer = undefined
      if (isWanted) run()
    }, everyMs)
    call()
  }
  const ask = (): void => {
    if (timer === undefined) run()
    else isWanted = true
  }
  const stop = (): void => clearTimeout(timer)
  return Object.assign(ask, { stop })
}
