import { JsonFault, readStrictJson } from '#kernel/strict-json'
import { fromBase64url } from './base64url.rules'

/** What somebody chose to have checked: read from its bytes, with what is wrong with the file itself in words. */

export type FileKind = 'signed' | 'standing' | 'keys' | 'record' | 'document' | 'history' | 'receipts'

export type ChosenFile = { kind: FileKind; value: Record<string, unknown> } | { fault: string }

export function readChosen(bytes: Uint8Array): ChosenFile {
  if (bytes.length === 0) return { fault: 'The file is empty. Save it again.' }
  if (startsWith(bytes, [0x25, 0x50, 0x44, 0x46]))
    return {
      fault:
        'This is the paper (PDF). What is signed is the record: choose “Signed record, JSON” from the certificate’s page, or take a picture of the code on the paper.',
    }
  if (startsWith(bytes, [0xff, 0xfe]) || startsWith(bytes, [0xfe, 0xff]) || bytes.subarray(0, 64).includes(0))
    return { fault: 'The file is no longer UTF-8: an editor saved it in another encoding. Take the file as the house gave it.' }
  try {
    return readChosenText(new TextDecoder('utf-8', { fatal: true }).decode(bytes))
  } catch {
    return { fault: 'The file holds bytes that are not UTF-8: it was saved in another encoding, or damaged.' }
  }
}

export function readChosenText(text: string): ChosenFile {
  const bare = text.trim()
  if (/^<(!doctype|html|\?xml)/i.test(bare))
    return { fault: 'This is a saved web page. Choose the file behind “Signed record, JSON” on it.' }
  if (!bare.startsWith('{')) return { fault: 'This is not a record: a record is JSON and begins with “{”.' }
  const read = parsed(bare)
  if ('fault' in read) return read
  const { value } = read
  const kind = kindOf(value)
  return kind
    ? { kind, value }
    : {
        fault:
          'This JSON is none of the things that can be checked here: a signed record, how it stands, the history of a lot, a set of keys, or a record to compare.',
      }
}

export function kindOf(value: Record<string, unknown>): FileKind | null {
  if ('payload' in value || 'signature' in value || 'protected' in value) return signedKind(value.payload)
  if ('keys' in value && Array.isArray(value.keys)) return 'keys'
  if (value.kind === 'tagstrip-record') return 'record'
  if (value.kind === 'tagstrip-certificate') return 'document'
  if (value.kind === 'tagstrip-receipts') return 'receipts'
  if ('leaves' in value && 'heads' in value) return 'history'
  return null
}

/** Which of the two that a house signs in this form: what stands in it is believed by nobody here. */
function signedKind(payload: unknown): FileKind {
  const bytes = typeof payload === 'string' ? fromBase64url(payload) : null
  return bytes && kindIn(new TextDecoder().decode(bytes)) === 'tagstrip-standing' ? 'standing' : 'signed'
}

function kindIn(text: string): unknown {
  try {
    return (JSON.parse(text) as { kind?: unknown } | null)?.kind
  } catch {
    // What is wrong with it is said by whoever checks the signed file.
    return undefined
  }
}

function parsed(text: string): { value: Record<string, unknown> } | { fault: string } {
  try {
    // It begins with “{”, so it is an object.
    return { value: readStrictJson(text) as Record<string, unknown> }
  } catch (reason) {
    if (!(reason instanceof JsonFault)) throw reason
    if (isCutOff(text)) return { fault: 'The file ends in the middle: it was cut off, as by a copy that stopped. Fetch it again, whole.' }
    if (!isJson(text)) return { fault: 'The file is not JSON any more: a character of it was changed, or it was damaged.' }
    return { fault: `${reason.message} Another program could read it otherwise, so it is refused: no house wrote it so.` }
  }
}

function isJson(text: string): boolean {
  try {
    JSON.parse(text)
    return true
  } catch {
    return false
  }
}

const startsWith = (bytes: Uint8Array, mark: number[]) => mark.every((byte, index) => bytes[index] === byte)

/** True when everything up to the end could be the beginning of JSON: some bracket or quotation is still open. */
function isCutOff(text: string): boolean {
  let depth = 0
  let isQuoted = false
  for (let at = 0; at < text.length; at += 1) {
    const character = text[at]
    if (isQuoted) {
      if (character === '\\') at += 1
      else if (character === '"') isQuoted = false
    } else if (character === '"') isQuoted = true
    else if (character === '{' || character === '[') depth += 1
    else if (character === '}' || character === ']') depth -= 1
  }
  return isQuoted || depth > 0
}

/** The serial in a link to a certificate, in what a code says or a person pastes; and from which house it is. */
export function readLink(written: string): { serial: string; home: string | null } | null {
  const text = written.trim()
  const serial = /\bTS-\d{4}-\d{4,}-[0-9A-Z]\b/i.exec(text)?.[0]
  if (!serial) return null
  const home = /^https?:\/\/[^/]+/i.exec(text)?.[0] ?? null
  return { serial: serial.toUpperCase(), home: home?.toLowerCase() ?? null }
}
