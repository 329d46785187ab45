import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

const runs = (name: string, word: string) => spawnSync(name, [word]).status === 0

/** What the verifiers in Python need and cannot be run here: Python's standard library, and openssl for Ed25519. */
export const missingForPython = [...(runs('python3', '--version') ? [] : ['python3']), ...(runs('openssl', 'version') ? [] : ['openssl'])]

/** What it says of each history under the key whose `x` is given, in one process: so each signature is asked of openssl once. */
export const verdictsInPython = (files: readonly string[], x: string): string[] =>
  verdicts(
    'verify_history.py',
    files.map((file) => [file]),
    x,
  )

/** The same of certificates and of how they stand at `now`; the files of one entry are held against each other as well. */
export const certificateVerdictsInPython = (chosen: readonly (readonly object[])[], x: string, now: number): string[] =>
  verdicts(
    'verify_certificate.py',
    chosen.map((files) => files.map((file) => JSON.stringify(file))),
    x,
    new Date(now).toISOString(),
  )

function verdicts(program: string, lines: readonly (readonly string[])[], x: string, ...words: string[]): string[] {
  const dir = mkdtempSync(join(tmpdir(), 'tagstrip-python-'))
  try {
    writeFileSync(join(dir, 'jwks.json'), JSON.stringify({ keys: [{ kty: 'OKP', crv: 'Ed25519', x }] }))
    const input = lines.map((files) => `${files.map((file) => Buffer.from(file).toString('base64')).join(' ')}\n`).join('')
    const { stdout, stderr } = spawnSync(
      'python3',
      ['-B', join(import.meta.dirname, 'python', program), join(dir, 'jwks.json'), ...words],
      {
        input,
        encoding: 'utf8',
        maxBuffer: 1 << 26,
      },
    )
    if (stderr !== '') throw new Error(stderr)
    return stdout.trim().split('\n')
  } finally {
    rmSync(dir, { recursive: true, force: true })
  }
}
