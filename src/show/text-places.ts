import type { Node } from 'jsonc-parser'
import { findNodeAtLocation } from 'jsonc-parser'
import type { JsonPath } from './json-path.ts'

/** From 1; columns in UTF-16 units. */
export interface TextPlace {
  readonly line: number
  readonly column: number
}

/** Finds line and column for an offset into `text`. */
export function placeFinder(text: string): (offset: number) => TextPlace {
  const starts = [0]
  for (const { index, 0: end } of text.matchAll(/\r\n|\r|\n/g)) starts.push(index + end.length)
  return (offset) => {
    let low = 0
    let high = starts.length - 1
    while (low < high) {
      const middle = Math.ceil((low + high) / 2)
      if ((starts[middle] ?? 0) <= offset) low = middle
      else high = middle - 1
    }
    return { line: low + 1, column: offset - (starts[low] ?? 0) + 1 }
  }
}

/** Where in the text `path` begins, a field at its name; what is not there is where it would have to be. */
export function offsetOf(root: Node, path: JsonPath): number {
  for (let length = path.length; length > 0; length--) {
    const node = findNodeAtLocation(root, path.slice(0, length))
    if (node) return node.parent?.type === 'property' ? node.parent.offset : node.offset
  }
  return root.offset
}
