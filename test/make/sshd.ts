import { spawn, spawnSync } from 'node:child_process'
import { chownSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { connect } from 'node:net'
import { tmpdir, userInfo } from 'node:os'
import { join } from 'node:path'
import { freePort, neighbour } from './neighbour'

/** sshd: the system's, or Debian's as the suite unpacked it; null where there is none. */
export const SSHD = neighbour('openssh-server', 'usr/sbin/sshd')

const NOBODY = 65_534

/** Starts an sshd for one user of this machine with a key of its own, and answers how to reach it. */
export async function openSshd() {
  if (SSHD === null) throw new Error('there is no sshd')
  const dir = mkdtempSync(join(tmpdir(), 'sshd-'))
  const make = (name: string) => spawnSync('ssh-keygen', ['-q', '-t', 'ed25519', '-N', '', '-f', join(dir, name)])
  make('host')
  make('user')
  spawnSync('cp', [join(dir, 'user.pub'), join(dir, 'authorized')])
  const port = await freePort()
  writeFileSync(
    join(dir, 'config'),
    `Port ${port}\nListenAddress 127.0.0.1\nHostKey ${dir}/host\nAuthorizedKeysFile ${dir}/authorized\nPidFile none\nUsePAM yes\nStrictModes no\nSubsystem sftp internal-sftp\n`,
  )
  // As root it would want a user of its own in the system; as nobody it lets nobody in, who need be no more.
  const isRoot = process.getuid?.() === 0
  const far = join(dir, 'far')
  mkdirSync(far)
  if (isRoot) for (const path of ['', 'host', 'authorized', 'config', 'far']) chownSync(join(dir, path), NOBODY, NOBODY)
  // Beside one that was unpacked lies a library that it wants.
  const libraries = join(SSHD, '..', '..', 'lib', `${process.arch === 'arm64' ? 'aarch64' : 'x86_64'}-linux-gnu`)
  const asNobody = isRoot ? ['setpriv', `--reuid=${NOBODY}`, `--regid=${NOBODY}`, '--clear-groups'] : []
  const [program = SSHD, ...first] = [...asNobody, SSHD]
  const child = spawn(program, [...first, '-D', '-e', '-f', join(dir, 'config')], {
    stdio: ['ignore', 'ignore', 'pipe'],
    env: { ...process.env, LD_LIBRARY_PATH: libraries },
  })
  let said = ''
  child.stderr.on('data', (part) => {
    said += part
  })
  const answers = () =>
    new Promise<boolean>((resolve) => {
      const line = connect(port, '127.0.0.1', () => resolve(true)).on('error', () => resolve(false))
      line.on('connect', () => line.destroy())
    })
  for (let tries = 0; !(await answers()); tries++) {
    if (tries > 100 || child.exitCode !== null) throw new Error(`sshd did not start: ${said}`)
    await new Promise((resolve) => setTimeout(resolve, 50))
  }
  return {
    port,
    user: isRoot ? 'nobody' : userInfo().username,
    /** A folder there that may be written to. */
    far,
    keyFile: join(dir, 'user'),
    said: () => said,
    /** Lines for known_hosts. */
    hostKey: () => spawnSync('ssh-keygen', ['-y', '-f', join(dir, 'host')], { encoding: 'utf8' }).stdout.trim(),
    stop() {
      child.kill('SIGTERM')
      rmSync(dir, { recursive: true, force: true })
    },
  }
}
