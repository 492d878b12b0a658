import type { Locator } from 'playwright-core'
import { inPage } from './in-page.ts'

const read = inPage<string>(`(root) => {
  const display = (node) => (node instanceof Element ? getComputedStyle(node).display : 'inline')
  const read = (node) => {
    if (node.nodeType === Node.TEXT_NODE) return node.data
    if (node.nodeName === 'STYLE' || node.nodeName === 'SCRIPT') return ''
    const words = [...(node.shadowRoot ?? node).childNodes].map(read).join('')
    return /^(inline|contents)/.test(display(node)) ? words : ' ' + words + ' '
  }
  return read(root).replace(/\\s+/g, ' ').trim()
}`)

/** All the text of an element, that in open shadows too, spaces made single. */
export function shadowText(locator: Locator): Promise<string> {
  return locator.evaluate(read)
}
