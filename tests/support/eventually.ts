/** Waits until `holds`, looking each few milliseconds, `limit` milliseconds at most; the answer is how long it took. */
export async function eventually(holds: () => boolean, limit = 5_000): Promise<number> {
  const begun = performance.now()
  while (!holds()) {
    if (performance.now() - begun > limit)
      throw new Error(`still not so after ${limit} ms: ${holds.toString()}`)
    await new Promise((resolve) => setTimeout(resolve, 2))
  }
  return performance.now() - begun
}
