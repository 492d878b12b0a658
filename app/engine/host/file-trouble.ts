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
    case 'EROFS':
      return 'the disk can only be read; choose another place'
    case 'ENAMETOOLONG':
      return 'the name is too long'
    default:
      return error instanceof Error ? error.message : String(error)
  }
}
