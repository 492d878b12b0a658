/**
 * A function to be run in a page on an element, from its text: tests know no types of the browser, and Playwright hands a function on as its text anyway.
 * `source` is an arrow function of one parameter.
 */
export function inPage<T>(source: string): (node: unknown) => T {
  return new Function(`return ${source}`)() as (node: unknown) => T
}

/** From now on an element counts how often it draws itself; the answer tells how often it has. */
export const countDraws = inPage<void>(`(node) => {
  const draw = node.render
  node.testDraws = 0
  node.render = function () {
    this.testDraws++
    return draw.call(this)
  }
}`)

export const drawsOf = inPage<number>('(node) => node.testDraws')
