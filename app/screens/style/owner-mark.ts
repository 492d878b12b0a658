import type { TemplateResult } from 'lit'
import { html, svg } from 'lit'
import type { Player } from '../../../src/domain/player.ts'

/** How a player is told from others without colour: a leaf form and initials; and an ink besides. */
export interface OwnerMark {
  readonly ink: string
  /** SVG path of a leaf in a square from -10 to 10, tip up. */
  readonly leaf: string
  /** What the leaf is called, for those who hear the page. */
  readonly form: string
  readonly initials: string
}

const MARKS: readonly { readonly ink: string; readonly form: string; readonly leaf: string }[] = [
  { form: 'ovate', ink: '#93d873', leaf: 'M0-9C6-5 6 4 0 9C-6 4-6-5 0-9Z' },
  {
    form: 'palmate',
    ink: '#c3adff',
    leaf: 'M0-10L2.6-3.4L9.6-3.2L4.2 1.2L6 8L1.2 4.4L1.2 10H-1.2L-1.2 4.4L-6 8L-4.2 1.2L-9.6-3.2L-2.6-3.4Z',
  },
  { form: 'heart', ink: '#7fcbff', leaf: 'M0 9C-9 3-10-3-8-7C-5-10-1-8 0-4C1-8 5-10 8-7C10-3 9 3 0 9Z' },
  { form: 'lance', ink: '#ffb765', leaf: 'M0-10L3.4 0L0 10L-3.4 0Z' },
  { form: 'round', ink: '#ff9fb8', leaf: 'M0-8A8 8 0 1 1-.1-8Z' },
  {
    form: 'trefoil',
    ink: '#ddda66',
    leaf: 'M0-9A4.5 4.5 0 0 1 3 0A4.5 4.5 0 1 1 1 5L0 9L-1 5A4.5 4.5 0 1 1-3 0A4.5 4.5 0 0 1 0-9Z',
  },
  { form: 'arrow', ink: '#64dcc6', leaf: 'M0-9L8 8L0 4L-8 8Z' },
  { form: 'square', ink: '#eaa684', leaf: 'M-7-7H7V7H-7Z' },
]

/** The mark of the player at a place in the show's list; marks repeat after eight, initials do not need to. */
export function ownerMark(players: readonly Pick<Player, 'id' | 'name'>[], id: string): OwnerMark {
  const place = players.findIndex((player) => player.id === id)
  const mark = MARKS[Math.max(0, place) % MARKS.length]
  if (!mark) throw new Error('there are marks')
  return { ...mark, initials: initialsOf(players[place]?.name ?? id) }
}

/** Up to two letters: the first of the first two words, else the first two of the one there is. */
function initialsOf(name: string): string {
  const words = name.split(/[^\p{L}\p{N}]+/u).filter((word) => word !== '')
  const [first = '?', second] = words
  const letters = second === undefined ? [...first].slice(0, 2) : [[...first][0], [...second][0]]
  return letters.join('').toUpperCase()
}

/** The mark as it stands in a line of text. */
export function ownerChip(mark: OwnerMark, name?: string): TemplateResult {
  return html`<span style="display:inline-flex;align-items:center;gap:.35em;white-space:nowrap">
    <svg viewBox="-11 -11 22 22" width="1.15em" height="1.15em" aria-hidden="true">
      <path d=${mark.leaf} fill=${mark.ink}></path>
    </svg>
    <span>${name ?? mark.initials}</span>
  </span>`
}

/** The leaf inside a drawing, at its own size of 20 units. */
export function ownerLeaf(mark: OwnerMark): TemplateResult {
  return svg`<path d=${mark.leaf} fill=${mark.ink}></path>` as unknown as TemplateResult
}
