/** A column: its head, and whether its cells end in line (numbers) or begin in line. */
export interface Column {
  readonly head: string
  readonly isText?: boolean | undefined
}

/** Rows under their heads, columns two spaces apart, no spaces at the end of a line. */
export function textTable(columns: readonly Column[], rows: readonly (readonly string[])[]): string[] {
  const widths = columns.map(({ head }, at) =>
    Math.max(head.length, ...rows.map((row) => (row[at] ?? '').length)),
  )
  const line = (cells: readonly string[]): string =>
    columns
      .map(({ isText }, at) => {
        const cell = cells[at] ?? ''
        return isText === true ? cell.padEnd(widths[at] ?? 0) : cell.padStart(widths[at] ?? 0)
      })
      .join('  ')
      .trimEnd()
  return [line(columns.map(({ head }) => head)), ...rows.map(line)]
}

/** "+0.0173", "-1.5000", "0.0000" without a sign. */
export function signed(value: number, places: number): string {
  const text = Math.abs(value).toFixed(places)
  if (Number(text) === 0) return text
  return `${value < 0 ? '-' : '+'}${text}`
}
