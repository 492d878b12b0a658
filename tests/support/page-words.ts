/** The words of a page in their order, one space between them. */
export function pageWords(html: string): string {
  return html
    .replace(/<style>.*?<\/style>/gsu, '')
    .replace(/<[^>]*>/gu, ' ')
    .replace(/&lt;/gu, '<')
    .replace(/&gt;/gu, '>')
    .replace(/&quot;/gu, '"')
    .replace(/&#39;/gu, "'")
    .replace(/&amp;/gu, '&')
    .replace(/\s+/gu, ' ')
    .replace(/ ([.,;:])/gu, '$1')
}
