import { createInterface } from 'node:readline'
import { Writable } from 'node:stream'
import { readPassphrase } from '#runtime/elsewhere/sealed-keys'
import type { PassphraseSource } from '#runtime/settings/copy-settings'

/** The passphrase of a copy: what is set, else what is typed, which is not shown. */
export function passphraseOf(source: PassphraseSource | null): Promise<string> {
  if (source !== null) return Promise.resolve(readPassphrase(source))
  if (!process.stdin.isTTY)
    return Promise.reject(
      new Error('The keys in the copy are encrypted. Set COPY_PASSPHRASE or COPY_PASSPHRASE_FILE, or run this where it can ask.'),
    )
  process.stdout.write('Passphrase of the copy (it is not shown): ')
  const dumb = new Writable({ write: (_part, _encoding, done) => done() })
  const lines = createInterface({ input: process.stdin, output: dumb, terminal: true })
  return new Promise((resolve, reject) => {
    lines.once('line', (line) => {
      lines.close()
      process.stdout.write('\n')
      resolve(line)
    })
    lines.once('SIGINT', () => {
      lines.close()
      reject(new Error('Nothing was changed.'))
    })
  })
}
