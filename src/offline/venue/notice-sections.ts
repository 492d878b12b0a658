import type { Notice } from '../notice/notice.ts'
import type { Markup } from '../sheet/html.ts'
import { html } from '../sheet/html.ts'

/** The sections of a notice; its heading is the page's. Lines may have names in them that are written from right to left. */
export function noticeSections({ sections }: Notice): Markup[] {
  return sections.map(
    ({ heading, lines }) =>
      html`<div class="notice">
        ${heading === '' ? '' : html`<h3>${heading}</h3>`}
        ${lines.map((line) => html`<p><bdi>${line}</bdi></p> `)}
      </div>`,
  )
}
