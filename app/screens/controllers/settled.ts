import type { ElementPart, PartInfo } from 'lit/directive.js'
import { Directive, directive, PartType } from 'lit/directive.js'

const beingTyped = new WeakSet<Element>()
const watched = new WeakSet<Element>()

/**
 * Puts a value into a text or number input at each render, unless somebody is typing there: an answer of the host to another field must not take the
 * letters away. Used on the element: `<input ${settled('12')} />`.
 */
class Settled extends Directive {
  constructor(info: PartInfo) {
    super(info)
    if (info.type !== PartType.ELEMENT) throw new TypeError('settled stands on an element')
  }

  override render(_value: string): void {}

  override update({ element }: ElementPart, [value]: [string]): void {
    if (!(element instanceof HTMLInputElement || element instanceof HTMLTextAreaElement)) return
    watch(element)
    if (!beingTyped.has(element) && element.value !== value) element.value = value
  }
}

function watch(element: HTMLInputElement | HTMLTextAreaElement): void {
  if (watched.has(element)) return
  watched.add(element)
  element.addEventListener('input', () => beingTyped.add(element))
  element.addEventListener('change', () => beingTyped.delete(element))
  element.addEventListener('blur', () => beingTyped.delete(element))
}

export const settled = directive(Settled)
