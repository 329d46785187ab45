import type { z } from 'zod'
import { hasGoodCheckCharacter } from '#kernel/ids'
import { Refusal } from '#kernel/refusal'
import type { Sight } from '#runtime/queue/turn'
import { findBatchByCode } from '#stock/shelf/batch.service'
import { batchCode, batchTag } from '#stock/shelf/piece.rules'
import { getPieceByTag } from '#stock/shelf/piece.service'
import { slipWords } from '#stock/shelf/tag.rules'
import { findUnitByTag } from './roster.service'
import type { findIn } from './tags.contract'

/** Where a scanned or typed tag leads: a piece, a batch or a unit. */
export function findByCode(sight: Sight, { code }: z.output<typeof findIn>): { href: string; tag: string } {
  const last = decoded(code.split(/[?#]/)[0]?.split('/').filter(Boolean).at(-1) ?? code)
  const unit = findUnitByTag(sight, last.trim().toUpperCase())
  if (unit) return { href: `/bench/units/${unit.tag}`, tag: unit.tag }
  const bare = last.normalize('NFKC').toUpperCase().replaceAll(/[\s-]/g, '')
  if (/^B\d/.test(bare)) return batchOf(sight, last, bare)
  const piece = getPieceByTag(sight, last, 'code')
  return { href: `/bench/pieces/${encodeURIComponent(piece.tag)}`, tag: piece.tag }
}

const decoded = (part: string): string => {
  try {
    return decodeURIComponent(part)
  } catch {
    // A malformed percent sign stands for itself.
    return part
  }
}

/** With its check character as printed on a bag, or without as it is said. */
function batchOf(sight: Sight, typed: string, bare: string): { href: string; tag: string } {
  const [said, printed] = [batchCode(Number(bare.slice(1))), batchCode(Number(bare.slice(1, -1)))]
  const isPrinted = hasGoodCheckCharacter(bare) && batchTag(Number(bare.slice(1, -1))).replaceAll('-', '') === bare
  const row = findBatchByCode(sight, isPrinted ? printed : said)
  if (row) return { href: `/bench/parts/${row.partId}#${row.code}`, tag: row.code }
  if (isPrinted || said.replaceAll('-', '') === bare)
    throw Refusal.at('code', `There is no batch ${isPrinted ? printed : said}.`, 'not-found')
  const meant = findBatchByCode(sight, printed)
  throw Refusal.at('code', slipWords(typed, meant ? [batchTag(meant.number)] : []))
}
