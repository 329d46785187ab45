import {
  createHash,
  createHmac,
  createPrivateKey,
  createPublicKey,
  generateKeyPairSync,
  type KeyObject,
  randomBytes,
  sign,
} from 'node:crypto'
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import canonicalize from 'canonicalize'
import type { Sealing } from '../queue/sealing'
import type { Keys } from '../queue/turn'

/**
 * Signing keys live outside the database, readable by their owner only: `<dir>/<made at>.pem`.
 * The newest signs; all of them are published, so that what an old one signed still verifies.
 */
export function openKeys(dir: string): Keys {
  mkdirSync(dir, { recursive: true, mode: 0o700 })
  if (keyFiles(dir).length === 0) makeKey(dir, Date.now())
  const pairs = keyFiles(dir).map((file) => {
    const secret = readKey(join(dir, file))
    return { secret, jwk: publicJwk(secret) }
  })
  const own = new Set(pairs.map(({ jwk }) => jwk.kid))
  const earlier = earlierKeys(dir).filter(({ kid }) => !own.has(kid ?? ''))
  const newest = pairs[pairs.length - 1]
  if (!newest) throw new Error(`no signing key in ${dir}`)
  return {
    kid: newest.jwk.kid,
    sign: (data) => new Uint8Array(sign(null, data, newest.secret)),
    jwks: () => ({ keys: [...earlier, ...pairs.map(({ jwk }) => ({ ...jwk }))] }),
    ...openSealing(dir),
  }
}

/** Keys that stand in no file and end with the program: what is signed and sealed with them, nobody verifies or opens later. */
export function keysInMemory(): Keys {
  const { privateKey } = generateKeyPairSync('ed25519')
  const jwk = publicJwk(privateKey)
  const secret = randomBytes(32)
  return {
    kid: jwk.kid,
    sign: (data) => new Uint8Array(sign(null, data, privateKey)),
    jwks: () => ({ keys: [{ ...jwk }] }),
    seal: (words) => new Uint8Array(createHmac('sha256', secret).update(words).digest()),
  }
}

/** What signs with the key of this name, and makes and opens nothing else. */
export function openSigner(dir: string, kid: string): Pick<Keys, 'kid' | 'sign'> {
  const secret = keyFiles(dir)
    .map((file) => readKey(join(dir, file)))
    .find((one) => publicJwk(one).kid === kid)
  if (!secret) throw new Error(`The key ${kid} is not in ${dir}.`)
  return { kid, sign: (data) => new Uint8Array(sign(null, data, secret)) }
}

/** What signs with the first key that this house ever made, by whose name others know the house; `x` is its public half. */
export function openFirstSigner(dir: string): Pick<Keys, 'kid' | 'sign'> & { x: string } {
  const [first] = keyFiles(dir)
  if (first === undefined) throw new Error(`no signing key in ${dir}`)
  const secret = readKey(join(dir, first))
  const { kid, x } = publicJwk(secret)
  return { kid, x, sign: (data) => new Uint8Array(sign(null, data, secret)) }
}

/** The name of the secret that the keys of all seals are made from. */
export const SEAL_SECRET = 'seal'

/** What seals and opens, without what signs. */
export function openSealing(dir: string): Sealing {
  const secret = openSecret(dir, SEAL_SECRET)
  return { seal: (words) => new Uint8Array(createHmac('sha256', secret).update(words).digest()) }
}

/** The public halves of all keys in a folder; nothing in it is touched. */
export const publicKeysIn = (dir: string): Record<string, string>[] =>
  existsSync(dir) ? [...earlierKeys(dir), ...keyFiles(dir).map((file) => publicJwk(readKey(join(dir, file))))] : []

/** The name of the first key that this house ever made, by which houses are told apart; null before it has one. */
export function firstKeyIn(dir: string): string | null {
  const first = existsSync(dir) ? keyFiles(dir)[0] : undefined
  return first === undefined ? null : publicJwk(readKey(join(dir, first))).kid
}

/**
 * Makes another key, which signs from the next start on. The earlier ones stay and are published as before: what they
 * signed still verifies. The secret that sessions are signed with is replaced, and nothing of it stays: everybody signs in
 * again. Answers the new key's name. Never at a time that would put it before an earlier one.
 */
export function rotateKey(dir: string, now: number): string {
  const last = Number(keyFiles(dir).at(-1)?.replace('.pem', '') ?? 0)
  mkdirSync(dir, { recursive: true, mode: 0o700 })
  makeKey(dir, Math.max(now, last + 1))
  replaceSecret(dir, SESSION_SECRET)
  return openKeys(dir).kid
}

const keyFiles = (dir: string): string[] =>
  readdirSync(dir)
    .filter((name) => name.endsWith('.pem'))
    .sort()

function makeKey(dir: string, at: number): void {
  const { privateKey } = generateKeyPairSync('ed25519')
  writeFileSync(join(dir, `${at}.pem`), privateKey.export({ type: 'pkcs8', format: 'pem' }), { mode: 0o600, flag: 'wx' })
}

/** Public halves of keys whose private ones are not here: of the house whose pack was read back, or that is rehearsed. They verify, and sign nothing. */
export const earlierKeysFile = (dir: string): string => join(dir, 'earlier-keys.json')

const earlierKeys = (dir: string): Record<string, string>[] =>
  existsSync(earlierKeysFile(dir))
    ? (JSON.parse(readFileSync(earlierKeysFile(dir), 'utf8')) as { keys: Record<string, string>[] }).keys
    : []

/** RFC 8037 public JWK; `kid` is its thumbprint by RFC 7638. */
function publicJwk(secret: KeyObject) {
  const { crv, kty, x } = createPublicKey(secret).export({ format: 'jwk' }) as { crv: string; kty: string; x: string }
  return { kty, crv, x, kid: thumbprintOf({ crv, kty, x }), alg: 'EdDSA', use: 'sig' }
}

/** The name of a public key (RFC 7638). */
export const thumbprintOf = ({ crv, kty, x }: { crv: string; kty: string; x: string }): string =>
  createHash('sha256')
    .update(canonicalize({ crv, kty, x }) ?? '')
    .digest('base64url')

/** The name of the secret that session cookies are signed with. */
export const SESSION_SECRET = 'session'

export const secretFile = (dir: string, name: string): string => join(dir, `${name}.secret`)

/** A secret of the house's own (sign-in, code hashing), made once and kept beside the keys. */
export function openSecret(dir: string, name: string): string {
  mkdirSync(dir, { recursive: true, mode: 0o700 })
  const file = secretFile(dir, name)
  if (!existsSync(file)) writeFileSync(file, randomBytes(32).toString('base64url'), { mode: 0o600, flag: 'wx' })
  const secret = readFileSync(file, 'utf8')
  if (secret.trim().length < 32) throw new Error(damaged(file))
  return secret
}

function readKey(file: string): KeyObject {
  try {
    return createPrivateKey(readFileSync(file))
  } catch (cause) {
    throw new Error(damaged(file), { cause })
  }
}

const damaged = (file: string): string =>
  `The key file ${file} is empty or damaged. Put it back from the folder "keys" of a backup of this house. Nothing was changed.`

/** Whether a folder holds a key to sign with, or the public halves of those of an earlier house. */
export const hasSigningKeys = (dir: string): boolean => existsSync(dir) && (keyFiles(dir).length > 0 || existsSync(earlierKeysFile(dir)))

/** Written beside it and put in its place in one step: a house that opens meanwhile reads the one or the other, whole. */
function replaceSecret(dir: string, name: string): void {
  const fresh = join(dir, `${name}.secret.new`)
  rmSync(fresh, { force: true })
  writeFileSync(fresh, randomBytes(32).toString('base64url'), { mode: 0o600, flag: 'wx' })
  renameSync(fresh, secretFile(dir, name))
}
