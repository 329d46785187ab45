#!/usr/bin/env node
// Checks a signed record of tests with nothing but Node 20 or later, and asks no server:
//   node tagstrip-check.mjs TS-2027-0147-M.json jwks.json [record.json]
// Ends with 0 when the signature holds (and the record, where one is given, says the same), with 1 when not, 2 when it cannot tell.
import { createHash, createPublicKey, verify } from 'node:crypto'
import { readFileSync } from 'node:fs'

class Broken extends Error {}
const fail = (words) => {
  throw new Broken(words)
}

/** RFC 8785 as far as JSON.parse gives values: members sorted by UTF-16 code units. */
function canonical(value) {
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`
  if (value === null || typeof value !== 'object') return JSON.stringify(value)
  const members = Object.keys(value).sort()
  return `{${members.map((name) => `${JSON.stringify(name)}:${canonical(value[name])}`).join(',')}}`
}

/** Only the one canonical spelling of base64url: a changed last character is found. */
function bytesOf(name, text) {
  const bytes = Buffer.from(String(text), 'base64url')
  if (bytes.toString('base64url') !== text) fail(`its ${name} is not canonical base64url, so it was changed or encoded anew`)
  return bytes
}

function documentIn(name, bytes) {
  const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes)
  const value = JSON.parse(text)
  return canonical(value) === text ? value : fail(`its ${name} is not canonical JSON`)
}

function open(signed, { keys }) {
  const names = Object.keys(signed).sort().join()
  if (names !== 'payload,protected,signature') fail('it is no signed record: it must have payload, protected and signature alone')
  const head = documentIn('header', bytesOf('header', signed.protected))
  if (head.alg !== 'EdDSA' || Object.keys(head).sort().join() !== 'alg,kid') fail('its header does not name EdDSA and a key alone')
  const key =
    keys.find(({ kid }) => kid === head.kid) ?? fail(`its key ${head.kid} is not in the key set: signed anew, or the set is older`)
  const { kty, crv, x } = key
  if (createHash('sha256').update(canonical({ crv, kty, x })).digest('base64url') !== head.kid)
    fail('the key set gives that name to another key')
  const signature = bytesOf('signature', signed.signature)
  const payload = bytesOf('payload', signed.payload)
  const publicKey = createPublicKey({ key: { kty, crv, x }, format: 'jwk' })
  if (!verify(null, Buffer.from(`${signed.protected}.${signed.payload}`), publicKey, signature)) fail('it was changed after it was signed')
  const record = documentIn('payload', payload)
  if (record.kind !== 'tagstrip-certificate' || record.version !== 1)
    fail(`it is ${record.kind} of version ${record.version}; this program reads tagstrip-certificate of version 1`)
  return record
}

/** The first path at which `other` says something else; only what both of them have, where `other` is a unit's record.json. */
function difference(signed, other, path = []) {
  if (signed === null || other === null || typeof signed !== 'object' || typeof other !== 'object')
    return Object.is(signed, other) ? null : `${path.join('.')}: signed ${JSON.stringify(signed)}, given ${JSON.stringify(other)}`
  for (const name of new Set([...Object.keys(signed), ...Object.keys(other)])) {
    const step = Array.isArray(signed) ? (signed[name]?.check ?? name) : name
    const found = difference(signed[name] ?? null, other[name] ?? null, [...path, step])
    if (found) return found
  }
  return null
}

const SHARED = ['results', 'reworks', 'earlier', 'instruments', 'atHome']
const sharedOf = (record) => Object.fromEntries(SHARED.map((name) => [name, record[name]]))
const read = (file) => {
  try {
    return JSON.parse(readFileSync(file, 'utf8'))
  } catch (reason) {
    return fail(`${file} cannot be read: ${reason.message}. Was it cut off, or saved in another encoding?`)
  }
}

const [signedFile, keysFile, otherFile] = process.argv.slice(2)
if (!keysFile) {
  console.error('node tagstrip-check.mjs <signed record.json> <jwks.json> [record to compare.json]')
  process.exit(2)
}
try {
  const record = open(read(signedFile), read(keysFile))
  console.log(
    `Holds: ${record.serial}, ${record.item.tag}, ${record.results.length} readings, signed on ${record.issuedAt}. ${record.proves}`,
  )
  const other = otherFile && read(otherFile)
  const isWhole = other && other.kind === 'tagstrip-certificate'
  const found = other && (isWhole ? difference(record, other) : difference(sharedOf(record), sharedOf(other)))
  if (found) fail(`the record to compare differs, first at ${found}`)
  if (other) console.log('The record to compare says the same.')
} catch (reason) {
  console.error(`Does not hold: ${reason.message}.`)
  process.exitCode = 1
}
