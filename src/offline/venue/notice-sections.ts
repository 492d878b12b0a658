import type { Notice } from '../notice/notice.ts'
import type { Markup } from '../sheet/html.ts'
import { html } from '../sheet/html.ts'

/** The sections of a notice; its heading is the page's, of level `under`. Lines may have names in them that are written from right to left. */
export function noticeSections({ sections }: Notice, under: 1 | 2): Markup[] {
  return sections.map(
    ({ heading, lines }) =>
      html`<div class="notice">
        ${heading === '' ? '' : under === 1 ? html`<h2>${heading}</h2>` : html`<h3>${heading}</h3>`}
        ${lines.map((line) => html`<p><bdi>${line}</bdi></p> `)}
      </div>`,
  )
}
