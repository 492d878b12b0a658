import fc from 'fast-check'

/** Runs a property at least 1,000 times and prints the seed, so that any run can be repeated (`LANTHORN_SEED=n`). */
export function checkProperty<T>(name: string, property: fc.IProperty<T>, runs = 1000): void {
  fc.assert(property, settings(name, runs))
}

/** The same for a property that takes promises. What fails is made smaller only where the seed is given: with real files and processes that may take very long. */
export async function checkAsyncProperty<T>(
  name: string,
  property: fc.IAsyncProperty<T>,
  runs = 1000,
): Promise<void> {
  await fc.assert(property, {
    ...settings(name, runs),
    endOnFailure: process.env.LANTHORN_SEED === undefined,
  })
}

function settings(name: string, runs: number): { readonly seed: number; readonly numRuns: number } {
  const given = process.env.LANTHORN_SEED
  const seed = given === undefined ? Math.trunc(Math.random() * 0x7fffffff) : Number(given)
  console.log(`property "${name}": seed ${seed}, ${runs} runs`)
  return { seed, numRuns: runs }
}
