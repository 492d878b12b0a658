/**
 * Puts a text on the clipboard. Where the page may not use it, as from another device over plain http, the older way is tried: `within` is where a field with
 * the text may stand for a moment. Resolves to whether it worked.
 */
export async function copyText(text: string, within: Node): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text)
    return true
  } catch {
    return copySelected(text, within)
  }
}

function copySelected(text: string, within: Node): boolean {
  const field = document.createElement('textarea')
  const before = document.activeElement
  field.value = text
  field.setAttribute('readonly', '')
  field.setAttribute('aria-hidden', 'true')
  field.style.cssText = 'position:fixed;top:0;left:0;opacity:0'
  within.appendChild(field)
  field.select()
  try {
    return document.execCommand('copy')
  } catch {
    return false
  } finally {
    field.remove()
    if (before instanceof HTMLElement) before.focus()
  }
}
