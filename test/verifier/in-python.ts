import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

const PROGRAM = join(import.meta.dirname, 'python', 'verify_history.py')
const runs = (name: string, word: string) => spawnSync(name, [word]).status === 0

/** What the verifier in Python needs and cannot be run here: Python's standard library, and openssl for Ed25519. */
export const missingForPython = [...(runs('python3', '--version') ? [] : ['python3']), ...(runs('openssl', 'version') ? [] : ['openssl'])]

/** What it says of each file under the key whose `x` is given, in one process: so each signature is asked of openssl once. */
export function verdictsInPython(files: readonly string[], x: string): string[] {
  const dir = mkdtempSync(join(tmpdir(), 'tagstrip-python-'))
  try {
    writeFileSync(join(dir, 'jwks.json'), JSON.stringify({ keys: [{ kty: 'OKP', crv: 'Ed25519', x }] }))
    const input = files.map((file) => `${Buffer.from(file).toString('base64')}\n`).join('')
    const { stdout, stderr } = spawnSync('python3', ['-B', PROGRAM, join(dir, 'jwks.json')], {
      input,
      encoding: 'utf8',
      maxBuffer: 1 << 26,
    })
    if (stderr !== '') throw new Error(stderr)
    return stdout.trim().split('\n')
  } finally {
    rmSync(dir, { recursive: true, force: true })
  }
}
