import { LONGEST_MESSAGE } from '../../../src/contract/to-host.ts'

/** What JSON puts around the text of a show in a message, and escapes in it: a file longer than this share does not fit. */
const LONGEST_FILE = LONGEST_MESSAGE * 0.75

/** The text of a show file that a person chose in this page, or why it cannot be one. Whether it is a good show is for the host to say. */
export async function readShowFile(
  file: File,
): Promise<{ readonly text: string } | { readonly fault: string }> {
  if (!/\.json$/i.test(file.name)) return { fault: 'This is no show file; a show is a .json file.' }
  if (file.size > LONGEST_FILE)
    return {
      fault: `This file has ${Math.ceil(file.size / 1e6)} MB; a show has at most ${LONGEST_FILE / 1e6} MB.`,
    }
  try {
    return { text: await file.text() }
  } catch {
    return { fault: 'The file could not be read; it may have been moved or changed. Choose it again.' }
  }
}
