import { createCipheriv, createDecipheriv, randomBytes, scrypt } from 'node:crypto'
import { promisify } from 'node:util'
import { Decrypter, Encrypter, type Identity, type Recipient, Stanza } from 'age-encryption'

// The open age format (age-encryption.org/v1), under a passphrase. The library would compute scrypt on the thread that asks,
// for seconds in which no bid is taken; here the system's own does it, on threads of its own. What comes out is the same.

const LABEL = 'age-encryption.org/v1/scrypt'
const LOG_N = 18
const MOST_LOG_N = 20
const CIPHER = 'chacha20-poly1305'
const NONCE = Buffer.alloc(12)
const TAG_BYTES = 16

const derive = promisify<string, Buffer, number, { N: number; r: number; p: number; maxmem: number }, Buffer>(scrypt)

const keyFor = (passphrase: string, salt: Buffer, logN: number): Promise<Buffer> =>
  derive(passphrase, Buffer.concat([Buffer.from(LABEL), salt]), 32, { N: 2 ** logN, r: 8, p: 1, maxmem: 2 ** logN * 1024 + 2 ** 20 })

const base64 = (bytes: Buffer): string => bytes.toString('base64').replaceAll('=', '')

const recipient = (passphrase: string): Recipient => ({
  async wrapFileKey(fileKey) {
    const salt = randomBytes(16)
    const cipher = createCipheriv(CIPHER, await keyFor(passphrase, salt, LOG_N), NONCE, { authTagLength: TAG_BYTES })
    const body = Buffer.concat([cipher.update(fileKey), cipher.final(), cipher.getAuthTag()])
    return [new Stanza(['scrypt', base64(salt), String(LOG_N)], new Uint8Array(body))]
  },
})

const identity = (passphrase: string): Identity => ({
  async unwrapFileKey(stanzas) {
    const [stanza] = stanzas
    if (stanzas.length !== 1 || stanza?.args[0] !== 'scrypt' || stanza.body.length !== 16 + TAG_BYTES) return null
    const salt = Buffer.from(stanza.args[1] ?? '', 'base64')
    const logN = /^[1-9]\d?$/.test(stanza.args[2] ?? '') ? Number(stanza.args[2]) : 0
    if (salt.length !== 16 || logN < 1 || logN > MOST_LOG_N) return null
    const cipher = createDecipheriv(CIPHER, await keyFor(passphrase, salt, logN), NONCE, { authTagLength: TAG_BYTES })
    cipher.setAuthTag(stanza.body.subarray(16))
    try {
      return new Uint8Array(Buffer.concat([cipher.update(stanza.body.subarray(0, 16)), cipher.final()]))
    } catch {
      return null
    }
  },
})

export async function encryptFor(passphrase: string, words: string): Promise<Uint8Array> {
  const encrypter = new Encrypter()
  encrypter.addRecipient(recipient(passphrase))
  return encrypter.encrypt(words)
}

/** Throws where the passphrase is another one, or where what is given is not what was written. */
export async function decryptWith(passphrase: string, sealed: Uint8Array): Promise<string> {
  const decrypter = new Decrypter()
  decrypter.addIdentity(identity(passphrase))
  return decrypter.decrypt(sealed, 'text')
}
