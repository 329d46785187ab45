/** Where a copy of the house is kept, as `COPY_TO` and `--from` say it. */
export type CopyTo =
  | { kind: 'folder'; path: string }
  | { kind: 'sftp'; user: string; host: string; port: number; path: string }
  | { kind: 's3'; bucket: string; prefix: string }

export const COPY_TO_WORDS =
  'a folder on another disk (/mnt/other/house), sftp://user@host/path or s3://bucket/path; in an address no password, question mark or #'

/** What an address means; null where it is none of ours. */
export function readCopyTo(text: string): CopyTo | null {
  if (text.startsWith('/')) return { kind: 'folder', path: text }
  if (!URL.canParse(text)) return null
  const url = new URL(text)
  if (url.password !== '' || url.search !== '' || url.hash !== '') return null
  const path = decoded(url.pathname)
  if (path === null || path.split('/').includes('..')) return null
  if (url.protocol === 'file:') return url.host === '' && path.length > 1 ? { kind: 'folder', path } : null
  if (url.protocol === 'sftp:') {
    // A name that begins with a dash would be taken for an option.
    const isNamed = /^[\w.][\w.-]*$/.test(url.username) && /^[\w.][\w.-]*$|^\[[\da-f:]+\]$/i.test(url.hostname)
    if (!isNamed || path.length < 2) return null
    return { kind: 'sftp', user: url.username, host: url.hostname.replace(/^\[|\]$/g, ''), port: Number(url.port || 22), path }
  }
  if (url.protocol !== 's3:' || url.port !== '' || url.username !== '') return null
  const bucket = url.hostname
  const prefix = path.split('/').filter(Boolean).join('/')
  return /^[a-z0-9][a-z0-9.-]{1,62}$/.test(bucket) ? { kind: 's3', bucket, prefix } : null
}

function decoded(path: string): string | null {
  try {
    return [...decodeURIComponent(path)].some((sign) => sign < ' ') ? null : decodeURIComponent(path)
  } catch {
    return null
  }
}

/** How a person is told where that is. */
export function copyToWords(to: CopyTo): string {
  if (to.kind === 'folder') return to.path
  if (to.kind === 'sftp') return `sftp://${to.host}${to.path}`
  return `s3://${to.bucket}/${to.prefix}`
}
