import { userInfo } from 'node:os'
import { join } from 'node:path'
import { DATABASE } from '#runtime/disk/house-files'

const BROKEN = /^SQLITE_(CORRUPT|NOTADB)/
const NOT_OPENED = /^SQLITE_(CANTOPEN|READONLY|PERM|AUTH)/
const FAILED = /^SQLITE_IOERR|^EIO$/

/** What is said to whoever started a program that could not start: in words, with what to do, where that is known. */
export function startWords(reason: unknown, { node = process.versions.node, dataDir = process.env.DATA_DIR ?? './data' } = {}): string {
  const words = reason instanceof Error ? reason.message : String(reason)
  const code = reason instanceof Error && 'code' in reason ? String(reason.code) : ''
  const file = join(dataDir, DATABASE)
  if (BROKEN.test(code))
    return (
      `The database ${file} is damaged (${words}). Nothing was changed.\n` +
      'Copy the whole folder to another disk first. Then put back the newest copy, from backups or from the copy elsewhere: npm run restore -- folder.'
    )
  if (code === 'EACCES' && words.startsWith('listen')) return `${words}\nThis user may not listen there. Set PORT to a number from 1024 on.`
  if (NOT_OPENED.test(code) || code === 'EACCES' || code === 'EPERM')
    return (
      `${pathOf(reason) ?? file} may not be read or written by this user (${words}). Nothing was changed.\n` +
      `Whoever runs the house has to own its whole folder. As root: chown -R ${USER} ${dataDir}`
    )
  if (code === 'EROFS')
    return `${pathOf(reason) ?? dataDir} is on a disk that may only be read. Nothing was changed.\nMount it for writing, and start again.`
  if (code === 'ENOSPC' || code === 'EDQUOT' || code === 'SQLITE_FULL')
    return `There is no room on the disk of ${dataDir}, or no more files may be made there (${words}). Nothing was lost.\nMake room, and start again.`
  if (FAILED.test(code))
    return `The disk of ${dataDir} failed (${words}). Nothing more was written.\nCopy what can still be read to another disk before anything else, then put back the newest copy: npm run restore -- folder.`
  if (code === 'EADDRINUSE') return `${words}\nAnother program is already listening there. Set PORT to another number.`
  if (code === 'ERR_DLOPEN_FAILED' || words.startsWith('Could not locate the bindings file'))
    return (
      `The database driver in node_modules does not match this Node (${node}); it was installed with another one, or for another machine. Nothing was changed.\n` +
      'Run npm ci with this Node, and start again. Where no prebuilt driver can be reached it is compiled, which needs Python 3, make and a C++ compiler.'
    )
  return words
}

/** Who this program runs as, as a command names them: a user that has no name has a number still. */
const USER = nameOfUser()
function nameOfUser(): string {
  try {
    return userInfo().username
  } catch {
    return String(process.getuid?.() ?? 'you')
  }
}

/** Of a fault of the system, the file it is about. */
const pathOf = (reason: unknown): string | null =>
  reason instanceof Error && 'path' in reason && typeof reason.path === 'string' ? reason.path : null
