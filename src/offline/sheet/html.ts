/** A piece of a page. Only `html` makes one, so what comes from a show is text in it, never markup. */
export class Markup {
  readonly text: string

  constructor(text: string) {
    this.text = text
  }
}

export type Piece = Markup | string | number | readonly Piece[]

/** A template of HTML: text and numbers in it are escaped, pieces stand as they are, lists one after the other. */
export function html(template: TemplateStringsArray, ...pieces: readonly Piece[]): Markup {
  return new Markup(template.reduce((text, next, index) => text + textOf(pieces[index - 1] ?? '') + next))
}

/** Pieces with words between them: "a; b; c". */
export function joined(pieces: readonly Piece[], between: string): Piece {
  return pieces.map((piece, index) => (index === 0 ? piece : [between, piece]))
}

/** A name that somebody gave, apart from the words around it: it may be written from right to left. */
export function named(name: string): Markup {
  return html`<bdi>${name}</bdi>`
}

/** Such names, one after the other. */
export function allNamed(names: readonly string[]): Piece {
  return joined(names.map(named), '; ')
}

function textOf(piece: Piece): string {
  if (piece instanceof Markup) return piece.text
  if (typeof piece === 'string' || typeof piece === 'number') return escaped(String(piece))
  return piece.map(textOf).join('')
}

/** What HTML has no way to hold: control characters, halves of a pair, and what is no character. */
const UNWRITABLE = /(?![\t\n\r])\p{Cc}|\p{Cs}|\p{Noncharacter_Code_Point}/gu

const REFERENCES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
}

/** Text as it stands in an element or in quotes. HTML Living Standard, 13.1: text, attributes, character references. */
function escaped(text: string): string {
  return text.replace(UNWRITABLE, '\ufffd').replace(/[&<>"']/g, (mark) => REFERENCES[mark] ?? mark)
}
