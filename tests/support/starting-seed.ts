/** A seed for a test's own generator, printed so that the run can be repeated (`LANTHORN_SEED=n`). */
export function startingSeed(name: string): number {
  const given = process.env.LANTHORN_SEED
  const seed = given === undefined ? Math.trunc(Math.random() * 0x7fffffff) : Number(given)
  console.log(`"${name}": seed ${seed}`)
  return seed
}
