import type { Node } from 'jsonc-parser'
import { getNodePath } from 'jsonc-parser'
import { quote } from './found.ts'
import type { Finding } from './show-fault.ts'

/** Fields that one object has twice. JSON readers keep one and drop the other without a word; a show loses nothing. */
export function repeatedFields(node: Node, lineOf: (node: Node) => number): Finding[] {
  const children = node.children ?? []
  const own = node.type === 'object' ? repeatedIn(children, lineOf) : []
  return [...own, ...children.flatMap((child) => repeatedFields(child, lineOf))]
}

function repeatedIn(properties: readonly Node[], lineOf: (node: Node) => number): Finding[] {
  const first = new Map<string, Node>()
  const findings: Finding[] = []
  for (const property of properties) {
    const [name, value] = property.children ?? []
    if (!name || !value) continue
    const earlier = first.get(name.value)
    if (earlier) {
      findings.push({
        path: getNodePath(value),
        found: `the field ${quote(name.value)} is given twice, on lines ${lineOf(earlier)} and ${lineOf(name)}`,
        expected: 'it once',
      })
    } else first.set(name.value, name)
  }
  return findings
}
