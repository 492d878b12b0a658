import type { Page } from 'playwright-core'

/** Elements whose text does not fit their box, those that are meant to end in dots left out, and pages that scroll sideways. */
export function cutOff(page: Page): Promise<string[]> {
  return page.evaluate<string[]>(`(() => {
    const faults = []
    const visit = (root) => {
      for (const element of root.querySelectorAll('*')) {
        if (element.shadowRoot) visit(element.shadowRoot)
        if (element.matches('.note, .hz, .fine, h1') && element.scrollWidth > element.clientWidth + 1)
          faults.push(element.className + ': ' + element.textContent.trim())
      }
    }
    visit(document)
    if (document.documentElement.scrollWidth > innerWidth) faults.push('the page scrolls sideways')
    return faults
  })()`)
}
