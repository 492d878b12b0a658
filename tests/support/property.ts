import fc from 'fast-check'

/** Runs a property at least 1,000 times and prints the seed, so that any run can be repeated (`LANTHORN_SEED=n`). */
export function checkProperty<T>(name: string, property: fc.IProperty<T>, runs = 1000): void {
  const given = process.env.LANTHORN_SEED
  const seed = given === undefined ? Math.trunc(Math.random() * 0x7fffffff) : Number(given)
  console.log(`property "${name}": seed ${seed}, ${runs} runs`)
  fc.assert(property, { seed, numRuns: runs })
}
