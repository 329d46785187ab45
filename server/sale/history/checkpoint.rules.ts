import { bytesToHex, concatBytes, utf8ToBytes } from '@noble/hashes/utils.js'
import { sha256 } from '#kernel/sha256'
import type { Hash } from './merkle.rules'

/** The head of one lot's ledger: how many leaves, and the root over them. */
export interface Head {
  origin: string
  size: number
  root: Hash
}

/** What is signed: the note text of a C2SP tlog-checkpoint, three lines and their line ends. */
export const checkpointText = ({ origin, size, root }: Head): string => `${origin}\n${size}\n${toBase64(root)}\n`

/** C2SP signed-note: the first four bytes of SHA-256(name ‖ LF ‖ 0x01 ‖ Ed25519 public key) say which key it was. */
export function keyHash(name: string, publicKey: Uint8Array): Uint8Array {
  const before = keyHashes.get(publicKey)
  if (before?.name === name) return before.hash
  const hash = sha256(concatBytes(utf8ToBytes(name), Uint8Array.of(0x0a, 0x01), publicKey)).slice(0, 4)
  keyHashes.set(publicKey, { name, hash })
  return hash
}

/** A house signs each bid under one name with one key. */
const keyHashes = new WeakMap<Uint8Array, { name: string; hash: Uint8Array }>()

/** The whole note: text, an empty line, one signature line. The key's name is the house's host name. */
export const signedNote = (text: string, name: string, publicKey: Uint8Array, signature: Uint8Array): string =>
  `${text}\n— ${name} ${toBase64(concatBytes(keyHash(name, publicKey), signature))}\n`

export interface OpenedNote {
  text: string
  head: Head
  name: string
  keyHash: Uint8Array
  signature: Uint8Array
}

/** Reads a signed checkpoint back; null for anything that is not exactly one. */
export function openNote(note: string): OpenedNote | null {
  const match = /^(([^\n]+)\n(0|[1-9]\d{0,14})\n([A-Za-z0-9+/]{43}=)\n)\n— ([^\s+]+) ([A-Za-z0-9+/]+={0,2})\n$/.exec(note)
  if (!match) return null
  const [, text = '', origin = '', size = '', root = '', name = '', signed = ''] = match
  const [rootBytes, bytes] = [fromBase64(root), fromBase64(signed)]
  if (!rootBytes || !bytes || bytes.length !== 68) return null
  return { text, head: { origin, size: Number(size), root: rootBytes }, name, keyHash: bytes.slice(0, 4), signature: bytes.slice(4) }
}

/** True when the note says that this key signed it: its four bytes are those of the key under the note's name. */
export const isKeyOf = ({ name, keyHash: said }: OpenedNote, publicKey: Uint8Array): boolean =>
  bytesToHex(said) === bytesToHex(keyHash(name, publicKey))

export const toBase64 = (bytes: Uint8Array): string => btoa(String.fromCharCode(...bytes))

/** Null unless the text is canonical: padding bits that are not nought would let one signature be written in two ways. */
export function fromBase64(text: string): Uint8Array | null {
  try {
    const bytes = Uint8Array.from(atob(text), (character) => character.charCodeAt(0))
    return toBase64(bytes) === text ? bytes : null
  } catch {
    return null
  }
}
