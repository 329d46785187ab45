import { spawn } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { mkdir, rename } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { basename, dirname, join, posix } from 'node:path'
import type { CopyMeans } from '../settings/copy-settings'
import type { CopyTo } from '../settings/copy-to.rules'
import type { Errand, Place } from './place'

/** Connections in one that errands are shared among; a server allows ten unless it is told otherwise. */
const AT_ONCE = 6
const LONGEST_MS = 10 * 60_000

/**
 * A folder on another machine, by the OpenSSH of this one: it alone decides which machine is believed (known_hosts) and who
 * is let in, and asks nothing. All errands go through one connection, which is held open between them.
 */
export function openSftpPlace(to: Extract<CopyTo, { kind: 'sftp' }>, { keyFile, knownHosts }: CopyMeans): Place {
  // The name of a socket may have a hundred signs, so it lies in the system's own folder.
  const dir = mkdtempSync(join(tmpdir(), 'copy-'))
  const options = [
    ...['-o', 'BatchMode=yes', '-o', 'ConnectTimeout=10', '-o', 'ServerAliveInterval=10', '-o', 'ServerAliveCountMax=2'],
    ...['-o', 'ControlMaster=auto', '-o', `ControlPath=${join(dir, 's')}`, '-o', 'ControlPersist=30'],
    ...(knownHosts === undefined ? [] : ['-o', `UserKnownHostsFile=${knownHosts}`, '-o', 'GlobalKnownHostsFile=/dev/null']),
    ...(keyFile === undefined ? [] : ['-i', keyFile, '-o', 'IdentitiesOnly=yes']),
  ]
  const there = `${to.user}@${to.host.includes(':') ? `[${to.host}]` : to.host}`
  const at = (path: string) => posix.join(to.path, path)

  /** What is said to commands that are done one after another; one that fails without a dash before it ends them all. */
  const run = (commands: readonly string[]): Promise<string> =>
    new Promise((resolve, reject) => {
      const child = spawn('sftp', ['-b', '-', '-o', 'LogLevel=ERROR', ...options, '-P', String(to.port), there], {
        stdio: ['pipe', 'pipe', 'pipe'],
      })
      const said = { out: '', err: '' }
      const timer = setTimeout(() => child.kill('SIGKILL'), LONGEST_MS)
      child.stdout.setEncoding('utf8').on('data', (part: string) => {
        said.out += part
      })
      child.stderr.setEncoding('utf8').on('data', (part: string) => {
        said.err += part
      })
      child.stdin.on('error', () => {})
      child.on('error', (cause) => reject(new Error('the program sftp of OpenSSH is not on this machine', { cause })))
      child.on('close', (code) => {
        clearTimeout(timer)
        if (code === 0) resolve(said.out)
        else reject(new Error(troubleOf(said.err, to)))
      })
      child.stdin.end(`${commands.join('\n')}\n`)
    })

  const made = new Set<string>()
  /** What makes the folders of a path that were not made before. */
  const makeFolders = (path: string): string[] => {
    const parts = dirname(path) === '.' ? [] : dirname(path).split('/')
    const folders = [at(''), ...parts.map((_, n) => at(parts.slice(0, n + 1).join('/')))].filter((folder) => !made.has(folder))
    for (const folder of folders) made.add(folder)
    return folders.map((folder) => `-mkdir ${quoted(folder)}`)
  }
  const share = async (commands: readonly string[][]) => {
    const hands = Math.min(AT_ONCE, Math.ceil(commands.length / 20))
    const shares = Array.from({ length: hands }, (_, n) => commands.filter((_, place) => place % hands === n))
    // The first opens the connection that the others go through.
    if (hands > 1) await run(['pwd'])
    await Promise.all(shares.map((one) => run(one.flat())))
  }
  const put = async (errands: readonly Errand[]) => {
    const folders = errands.flatMap(({ to: path }) => makeFolders(path))
    try {
      if (folders.length > 0) await run(folders)
      await share(
        errands.map(({ from, to: path }) => [
          `put -f ${quoted(from)} ${quoted(at(`${path}.part`))}`,
          `rename ${quoted(at(`${path}.part`))} ${quoted(at(path))}`,
        ]),
      )
    } catch (reason) {
      made.clear()
      throw reason
    }
  }

  const listBelow = async (folder: string): Promise<string[]> => {
    const lines = (await run([`-ls -ln ${quoted(at(folder))}`])).split('\n')
    const entries = lines.flatMap(entryOf)
    const found: string[] = []
    for (const { isFolder, name } of entries) {
      const path = `${folder}/${basename(name)}`
      if (isFolder) found.push(...(await listBelow(path)))
      else if (!path.endsWith('.part')) found.push(path)
    }
    return found
  }
  const fetch = async (errands: readonly Errand[]) => {
    await Promise.all([...new Set(errands.map((one) => dirname(one.to)))].map((one) => mkdir(one, { recursive: true, mode: 0o700 })))
    await share(errands.map(({ from, to: path }) => [`get ${quoted(at(from))} ${quoted(`${path}.part`)}`]))
    for (const { to: path } of errands) await rename(`${path}.part`, path)
  }
  let lastId = 0
  const scratch = () => join(dir, `f${++lastId}`)

  return {
    list: async (below) => (await listBelow(below)).map((path) => path.slice(below.length + 1)),
    async read(path) {
      const file = scratch()
      // Told apart by what is listed, since what is not there and what may not be read fail alike.
      const isThere = (await run([`-ls -1 ${quoted(at(path))}`]))
        .split('\n')
        .some((line) => !line.startsWith('sftp>') && line.trim() !== '')
      if (!isThere) return null
      await fetch([{ from: path, to: file }])
      const bytes = readFileSync(file)
      rmSync(file)
      return bytes
    },
    async write(path, bytes) {
      const file = scratch()
      writeFileSync(file, bytes, { mode: 0o600 })
      await put([{ from: file, to: path }])
      rmSync(file)
    },
    put,
    fetch,
    remove: async (paths) => {
      if (paths.length > 0) await run(paths.map((path) => `-rm ${quoted(at(path))}`))
    },
    async close() {
      await new Promise((resolve) => {
        const child = spawn('ssh', ['-q', '-O', 'exit', '-o', `ControlPath=${join(dir, 's')}`, '-p', String(to.port), there], {
          stdio: 'ignore',
        })
        child.once('error', resolve).once('close', resolve)
      })
      rmSync(dir, { recursive: true, force: true })
    },
  }
}

/** As sftp reads it: within quotes, and with no sign that would stand for other names. */
const quoted = (path: string): string => `"${path.replaceAll(/["\\*?[\]]/g, '\\$&')}"`

function troubleOf(err: string, to: { host: string; port: number }): string {
  const lines = err.split('\n').filter((line) => line.trim() !== '')
  if (/Host key verification failed|REMOTE HOST IDENTIFICATION HAS CHANGED/.test(err))
    return `OpenSSH does not know the key of ${to.host}, or it has changed. As the user of the house, connect once with: ssh -p ${to.port} ${to.host}, and compare its fingerprint`
  if (/Permission denied \(/.test(err)) return `${to.host} lets nobody in with the key that OpenSSH has. Set COPY_KEY_FILE to the right one`
  return lines.at(-1)?.trim() ?? 'the connection ended'
}

/** What a line of a long listing names: mode, links, owner, group, size, three words of a time, name. Nothing for any other line. */
function entryOf(line: string): { isFolder: boolean; name: string }[] {
  const [mode = '', ...words] = line.split(' ').filter(Boolean)
  return /^[-d][-rwxstST]{9}/.test(mode) && words.length >= 8 ? [{ isFolder: mode.startsWith('d'), name: words.slice(7).join(' ') }] : []
}
