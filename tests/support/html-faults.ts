import { HtmlValidate } from 'html-validate'

/** The HTML standard's own rules and what the Web Content Accessibility Guidelines need of markup; see html-validate.org/rules. */
const validator = new HtmlValidate({
  extends: ['html-validate:standard', 'html-validate:a11y'],
  // How long a title may be is a matter of taste.
  rules: { 'long-title': 'off' },
})

export function htmlFaults(html: string): string[] {
  return validator
    .validateStringSync(html)
    .results.flatMap(({ messages }) =>
      messages.map(({ ruleId, message, line }) => `${line}: ${ruleId}: ${message}`),
    )
}

/** What of a page would load something else, or run. */
export function reachingOut(html: string): string[] {
  const tags = [...html.matchAll(/<([a-z]+)([^>]*)>/gu)]
  const forbidden = ['script', 'link', 'img', 'iframe', 'object', 'use', 'a']
  const elements = tags.flatMap(([tag, name]) => (forbidden.includes(name ?? '') ? [tag] : []))
  const attributes = tags.flatMap(([tag, , rest]) =>
    /\s(src|href|on\w+|style)=/u.test(rest ?? '') ? [tag] : [],
  )
  const css = /<style>(.*?)<\/style>/su.exec(html)?.[1] ?? ''
  return [...elements, ...attributes, ...(/url\(|@import/u.test(css) ? ['the style'] : [])]
}
