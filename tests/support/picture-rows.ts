/** A line of a picture that means something. */
export interface PictureRow {
  readonly kind: 'note' | 'lamp' | 'blocked' | 'refusing' | 'tempo' | 'all-off'
  /** A lamp's id, or '' where the row is about none. */
  readonly name: string
  readonly key: number
  readonly velocity: number
  readonly cells: string
}

export interface PictureRows {
  /** Every line, trimmed of the indentation they share. */
  readonly lines: readonly { readonly text: string; readonly row: PictureRow | undefined }[]
  readonly notes: readonly PictureRow[]
  readonly lamps: readonly PictureRow[]
  readonly others: readonly PictureRow[]
  readonly columns: number
}

const CELLS: Record<PictureRow['kind'], RegExp> = {
  note: /^[=#_^v.-]+$/,
  lamp: /^[a-zA-Z.!]+$/,
  blocked: /^[x.]+$/,
  refusing: /^[x.]+$/,
  tempo: /^[2h.]+$/,
  'all-off': /^[!.]+$/,
}

/** Reads a picture (see `expectPicture`). Throws an Error that names the line where it is no good. */
export function readPicture(picture: string): PictureRows {
  const texts = withoutIndentation(picture.split('\n').filter((line) => line.trim() !== ''))
  const lines = texts.map((text) => ({ text, row: readRow(text) }))
  const rows = lines.flatMap(({ row }) => (row ? [row] : []))
  const columns = rows[0]?.cells.length ?? 0
  for (const { text, row } of lines) {
    if (row && row.cells.length !== columns) {
      throw new Error(`picture: ${row.cells.length} columns where the first row has ${columns}: ${text}`)
    }
  }
  const lamps = rows.filter(({ kind }) => kind === 'lamp')
  if (lamps.length === 0) throw new Error('picture: no lamp rows')
  for (const { kind, name } of rows) {
    if ((kind === 'blocked' || kind === 'refusing') && !lamps.some((lamp) => lamp.name === name)) {
      throw new Error(`picture: a row about lamp "${name}", which has no row of its own`)
    }
  }
  return {
    lines,
    notes: rows.filter(({ kind }) => kind === 'note'),
    lamps,
    others: rows.filter(({ kind }) => kind !== 'note' && kind !== 'lamp'),
    columns,
  }
}

function readRow(text: string): PictureRow | undefined {
  const found = /^([^|]*)\|([^|]*)\|/.exec(text)
  if (!found) {
    // Lines without bars, such as a ruler, are for the reader.
    if (text.includes('|')) throw new Error(`picture: a row needs a bar at both ends: ${text}`)
    return undefined
  }
  const label = (found[1] ?? '').trim()
  const row = { ...readLabel(label), cells: found[2] ?? '' }
  if (!CELLS[row.kind].test(row.cells)) {
    throw new Error(`picture: a ${row.kind} row may hold only ${CELLS[row.kind].source}: ${text}`)
  }
  return row
}

function readLabel(label: string): Omit<PictureRow, 'cells'> {
  const note = /^(\d+)(?: v(\d+))?$/.exec(label)
  if (note) return { kind: 'note', name: '', key: Number(note[1]), velocity: Number(note[2] ?? 100) }
  const about = /^([a-z]+)(?: +(not|no))?$/.exec(label)
  const none = { key: 0, velocity: 0 }
  if (label === 'all off') return { kind: 'all-off', name: '', ...none }
  if (label === 'tempo') return { kind: 'tempo', name: '', ...none }
  if (!about) throw new Error(`picture: cannot tell what row "${label}" is`)
  const kind = about[2] === 'not' ? 'blocked' : about[2] === 'no' ? 'refusing' : 'lamp'
  return { kind, name: about[1] ?? '', ...none }
}

function withoutIndentation(lines: readonly string[]): string[] {
  const least = Math.min(...lines.map((line) => line.length - line.trimStart().length))
  return lines.map((line) => line.slice(least).trimEnd())
}
