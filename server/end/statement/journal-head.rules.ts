import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js'
import canonicalize from 'canonicalize'
import type { JournalLine } from '#money/books/books.contract'
import type { JournalHead } from './account.contract'

/**
 * A digest over the whole journal in its order: each entry is hashed together with the digest before it, so an entry that was
 * changed, left out or put in anywhere gives another head. Names of who wrote are no part of it: they may be deleted later.
 */
export function journalHead(journal: readonly JournalLine[]): JournalHead {
  let digest = ''
  for (const { id, at, valueOn, kind, memo, reference, corrects, postings } of journal) {
    const entry = { before: digest, id, at, valueOn, kind, memo, reference, corrects: corrects?.id ?? null, postings }
    digest = bytesToHex(sha256(utf8ToBytes(canonicalize(entry) ?? '')))
  }
  return { entries: journal.length, digest }
}
