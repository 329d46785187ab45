import { readIdcode, sayDifference } from '../catalogue/idcode.rules'
import type { Verdict } from './shelf.contract'

export interface Said {
  verdict: Verdict
  imageSha256: string
  idcode: string
  confirmMix: boolean
}

export interface Known {
  tag: string
  /** What was concluded of the piece before. */
  verdict: Verdict
  part: { programmed: boolean; imageSha256: string | null; idcode: string | null }
}

/**
 * What does not go together in what is said of a programmable piece, with the field it stands at; null when nothing is in
 * the way. A blank and a programmed piece must not be taken for each other without somebody saying so.
 */
export function whyNotSo({ tag, verdict: before, part }: Known, said: Said): { field: string; words: string } | null {
  const isGood = said.verdict.startsWith('good')
  if (said.verdict === 'good and blank' && said.imageSha256 !== '') {
    return { field: 'imageSha256', words: 'A blank piece holds no image. Leave the SHA-256 out, or choose "good and programmed".' }
  }
  if (
    said.verdict === 'good and programmed' &&
    part.imageSha256 !== null &&
    said.imageSha256 !== '' &&
    said.imageSha256 !== part.imageSha256
  ) {
    const words = `That is another image than this part must hold (${part.imageSha256.slice(0, 8)}…). Read it again, or choose "unknown image".`
    return { field: 'imageSha256', words }
  }
  const read = said.idcode === '' ? null : readIdcode(said.idcode)
  if (read && !read.ok) return { field: 'idcode', words: read.words }
  const wanted = part.idcode === null ? null : readIdcode(part.idcode)
  const differs = read?.ok && wanted?.ok ? sayDifference(read.idcode, wanted.idcode) : null
  if (isGood && differs !== null) return { field: 'idcode', words: `It is ${differs}. Read it again, or choose "wrong part".` }
  const isErased = before === 'good and programmed' && (said.verdict === 'good and blank' || said.verdict === 'good')
  if (part.programmed && isErased && !said.confirmMix) {
    return {
      field: 'confirmMix',
      words: `${tag} was read as programmed before. If it was erased since, say so; if not, you may hold another piece: compare the tag.`,
    }
  }
  return null
}
