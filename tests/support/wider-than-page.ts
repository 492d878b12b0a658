import type { Page } from 'playwright-core'

/** Elements that reach beyond the page's edges, and cells that reach into the next. */
export function widerThanPage(page: Page): Promise<string[]> {
  return page.evaluate<string[]>(`
    [...document.querySelectorAll('*')].filter((element) => {
      const { left, right, width } = element.getBoundingClientRect()
      const spills = element.matches('html, th, td') && element.scrollWidth > element.clientWidth + 1
      return spills || (width > 0 && (left < -0.5 || right > innerWidth + 0.5))
    }).map(({ tagName, className, textContent }) => tagName + '.' + className + ': ' + textContent.slice(0, 60))
  `)
}
