import axe from 'axe-core'
import type { Page } from 'playwright-core'

/** What axe-core finds against WCAG 2.2 A and AA on the page as it is now, open shadows too: a line each, with the rule and the element; empty where nothing. */
export async function axeFaults(page: Page): Promise<string[]> {
  await page.evaluate(axe.source)
  const violations = await page.evaluate<Violation[]>(
    `axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }).then(({ violations }) => violations)`,
  )
  return violations.flatMap(({ id, help, nodes }) =>
    nodes.map(
      ({ target, failureSummary }) => `${id}: ${help}: ${target.flat().join(' ')}: ${failureSummary}`,
    ),
  )
}

interface Violation {
  readonly id: string
  readonly help: string
  readonly nodes: readonly {
    readonly target: readonly (string | readonly string[])[]
    readonly failureSummary: string
  }[]
}
