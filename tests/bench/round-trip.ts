const NOTES = 400

/** Sends notes one by one and waits for what `arrived` reports; the times between, in milliseconds. */
export class RoundTrip {
  readonly #send: (bytes: Buffer) => void
  #sentAt = 0
  #arrived: ((took: number) => void) | undefined

  constructor(send: (bytes: Buffer) => void) {
    this.#send = send
  }

  arrived(): void {
    const done = this.#arrived
    this.#arrived = undefined
    done?.(performance.now() - this.#sentAt)
  }

  async run(notes = NOTES): Promise<number[]> {
    const times: number[] = []
    for (let note = 0; note < notes; note++) {
      const key = 40 + (note % 40)
      const took = new Promise<number>((resolve) => {
        this.#arrived = resolve
      })
      this.#sentAt = performance.now()
      this.#send(Buffer.of(0x90, key, 100))
      times.push(await Promise.race([took, pause(200).then(() => Number.NaN)]))
      this.#send(Buffer.of(0x80, key, 64))
      // Not in step with the sound server's cycles.
      await pause(8 + Math.random() * 5)
    }
    return times.filter((ms) => !Number.isNaN(ms))
  }
}

export const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms))
