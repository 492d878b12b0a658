/** The show, the take or a device is at fault: what, where, what to do. The command ends with 1. */
export class Failure extends Error {}

/** The command was used wrongly; it ends with 2. */
export class WrongUsage extends Error {}

/** Words for an error of the file system, for people. */
export function fileTrouble(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : ''
  switch (code) {
    case 'ENOENT':
      return 'there is no such file; check the name'
    case 'EACCES':
    case 'EPERM':
      return 'no permission; check who owns it'
    case 'EISDIR':
      return 'that is a folder; name a file'
    case 'ENOTDIR':
      return 'a part of the path is a file, not a folder'
    case 'EEXIST':
      return 'there is a file of that name already; name a folder'
    case 'ENOSPC':
      return 'the disk is full; make room and try again'
    default:
      return error instanceof Error ? error.message : String(error)
  }
}
