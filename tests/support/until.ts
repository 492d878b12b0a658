/** Looks every few milliseconds until `holds`; throws with `what` after `limitMs`. */
export async function until(what: string, holds: () => boolean, limitMs = 10_000): Promise<void> {
  const end = performance.now() + limitMs
  while (!holds()) {
    if (performance.now() > end) throw new Error(`Waited ${limitMs} ms in vain until ${what}`)
    await new Promise((done) => setTimeout(done, 5))
  }
}
