import { Refusal } from '#kernel/refusal'
import { LABEL_PAPERS } from '#paper/sheet.rules'
import { findCampaign } from '#people/campaign/campaign.service'
import { type Address, printed } from '#runtime/call/address'
import type { Sight } from '#runtime/queue/turn'
import { findBatchByCode } from './batch.service'
import { type Label, labelsOrder } from './labels-paper'
import { batchTag } from './piece.rules'
import { piecesOf } from './piece.service'
import { type BatchCard, batchCard } from './stock.service'

const MOST_BAGS = 100

const whence = ({ code, marking, dateCode }: BatchCard) => [code, marking, dateCode].filter(Boolean).join(' · ')

/** A label for each piece of the batch that has a tag; for the bag itself where none has. */
function labelsFor(sight: Sight, card: BatchCard, of: 'pieces' | 'bag'): Label[] {
  const pieces = piecesOf(sight, [card.id])
  if (of === 'bag') {
    const tag = batchTag(card.number)
    return [{ code: `${sight.publicUrl}/bench/pieces/${tag}`, tag, lines: [card.part.words, whence(card), `${card.quantity} came`] }]
  }
  return pieces.map(({ tag }) => ({ code: `${sight.publicUrl}/bench/pieces/${tag}`, tag, lines: [card.part.words, whence(card)] }))
}

export const labelsAddresses: Address[] = [
  {
    path: '/bench/labels/:batch.pdf',
    audience: ['maker', 'volunteer'],
    answer(sight, { batch = '' }, query) {
      // Several codes with commas between: the bags of a pick list.
      const rows = batch
        .split(',')
        .slice(0, MOST_BAGS)
        .map((code) => findBatchByCode(sight, code))
      const [row] = rows
      if (!row || !rows.every((one) => one !== null)) return null
      const paper = LABEL_PAPERS.find((one) => one === (query.get('paper') ?? 'a4'))
      if (!paper) throw new Refusal('bad-input', `Choose a paper: ${LABEL_PAPERS.join(', ')}.`)
      const of = query.get('of') === 'bag' ? 'bag' : 'pieces'
      const labels = rows.flatMap((one) => labelsFor(sight, batchCard(sight, one.id), of))
      const [title, author] = [`Labels of ${row.code}`, findCampaign(sight)?.name ?? 'Tagstrip']
      const skip = Number(query.get('skip') ?? 0)
      return printed(
        labelsOrder({ paper, size: of === 'bag' ? 'bag' : 'piece', labels, skip, title, author, at: row.at }),
        `${row.code}-labels.pdf`,
      )
    },
  },
]
