import { songSheet } from '../../src/offline/song-sheet.ts'
import { readShow } from './read-show.ts'
import { refuseOverwriting, writePage } from './write-page.ts'

export interface SheetArguments {
  readonly out: string
}

/** `lanthorn sheet SHOW --out FILE.html`: the set list and a sheet for each song, as a page to be printed. */
export function sheetCommand(showPath: string, { out }: SheetArguments): void {
  const show = readShow(showPath)
  refuseOverwriting(out, [[showPath, 'the show']])
  writePage(out, songSheet(show))
  process.stdout.write(`${out}: open it in a browser and print it\n`)
}
