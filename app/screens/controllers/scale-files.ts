/** As the contract has it. */
const LONGEST = 1_000_000

export interface TextFile {
  readonly name: string
  readonly text: string
}

export interface ScaleFiles {
  readonly scl?: TextFile
  readonly kbm?: TextFile
  /** Why a file cannot be one of them, each with its name. Whether it is a good scale is for the host to say. */
  readonly faults: readonly string[]
}

export function isScaleFile({ name }: { readonly name: string }): boolean {
  return /\.(scl|kbm)$/i.test(name)
}

/** The texts of a scale file and its keyboard mapping, of files that a person chose or dropped; of several of a kind the last. */
export async function readScaleFiles(files: readonly File[]): Promise<ScaleFiles> {
  let found: ScaleFiles = { faults: [] }
  for (const file of files) {
    const read = await readText(file)
    if (typeof read === 'string') found = { ...found, faults: [...found.faults, `${file.name}: ${read}`] }
    else if (/\.scl$/i.test(file.name)) found = { ...found, scl: read }
    else found = { ...found, kbm: read }
  }
  return found
}

async function readText(file: File): Promise<TextFile | string> {
  if (!isScaleFile(file)) return 'this is no scale file (.scl) and no keyboard mapping (.kbm).'
  // Older ones are in single bytes, which are at most as many characters.
  if (file.size > LONGEST) return `it has ${Math.ceil(file.size / 1e6)} MB; a scale has at most 1 MB.`
  try {
    return { name: file.name, text: await file.text() }
  } catch {
    return 'it could not be read; it may have been moved or changed. Choose it again.'
  }
}
