import { mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { z } from 'zod'
import { LEAST_PASSPHRASE, type PassphraseSource } from '../settings/copy-settings'
import { decryptWith, encryptFor } from './age-passphrase'

/** The keys folder as one file in the open age format. What is in it is JSON: the text of each file by its name. */
export const KEYS_FILE = 'keys.age'

const shape = z.strictObject({ files: z.record(z.string().regex(/^[\w-][\w.-]*\.(pem|secret|json)$/), z.string()) })

const namesIn = (keysDir: string): string[] =>
  readdirSync(keysDir)
    .filter((name) => /\.(pem|secret|json)$/.test(name))
    .sort()

export const sealKeys = (keysDir: string, passphrase: string): Promise<Uint8Array> => {
  const files = Object.fromEntries(namesIn(keysDir).map((name) => [name, readFileSync(join(keysDir, name), 'utf8')]))
  return encryptFor(passphrase, JSON.stringify({ files } satisfies z.infer<typeof shape>))
}

/** Tells one state of the keys folder from another. */
export const stateOfKeys = (keysDir: string): string =>
  namesIn(keysDir)
    .map((name) => {
      const { size, mtimeMs } = statSync(join(keysDir, name))
      return `${name} ${size} ${mtimeMs}`
    })
    .join('\n')

export async function openKeysInto(keysDir: string, sealed: Uint8Array, passphrase: string): Promise<void> {
  let words: string
  try {
    words = await decryptWith(passphrase, sealed)
  } catch (cause) {
    const isOther = cause instanceof Error && cause.message.includes('no identity matched')
    throw new Error(
      isOther
        ? 'The passphrase is not the one that the keys in this copy were encrypted with. Nothing was changed. Give the one that COPY_PASSPHRASE was when the copy was made.'
        : `The copy is damaged: its ${KEYS_FILE} is not what was written.`,
      { cause },
    )
  }
  const { files } = shape.parse(JSON.parse(words))
  mkdirSync(keysDir, { recursive: true, mode: 0o700 })
  for (const [name, text] of Object.entries(files)) writeFileSync(join(keysDir, name), text, { mode: 0o600, flush: true })
}

/** The passphrase that a new copy is made with. */
export function newPassphrase(source: PassphraseSource): string {
  const line = readPassphrase(source)
  if (line.length >= LEAST_PASSPHRASE) return line
  const where = 'file' in source ? `The first line of ${source.file}, which COPY_PASSPHRASE_FILE names,` : 'COPY_PASSPHRASE'
  throw new Error(`${where} wants at least ${LEAST_PASSPHRASE} characters.`)
}

export function readPassphrase(source: PassphraseSource): string {
  if ('words' in source) return source.words
  let line: string
  try {
    line = readFileSync(source.file, 'utf8').split(/\r?\n/)[0] ?? ''
  } catch (cause) {
    throw new Error(`COPY_PASSPHRASE_FILE names ${source.file}, which cannot be read. See to it that the house may read it.`, { cause })
  }
  return line
}
