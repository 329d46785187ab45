import type { z } from 'zod'
import type { Instant } from '#kernel/instant'
import { parseMoney } from '#kernel/money'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { getPart } from '../catalogue/part.service'
import { getBatch } from './batch.service'
import type { Price } from './price.rules'
import { insertPrice, priceRows } from './price.store'
import type { priceIn } from './shelf.contract'

export interface SaidPrice extends Price {
  source: string
  at: Instant
  by: string
}

/** What was said last of each part and of each batch; a price that was taken back is not among them. */
export function replacementPrices(sight: Sight): { ofPart: Map<string, SaidPrice>; ofBatch: Map<string, SaidPrice> } {
  const [ofPart, ofBatch] = [new Map<string, SaidPrice>(), new Map<string, SaidPrice>()]
  for (const { partId, batchId, minor, pieces, source, at, by } of priceRows(sight.db)) {
    const [prices, key] = partId === null ? [ofBatch, batchId ?? ''] : [ofPart, partId]
    if (minor === null) prices.delete(key)
    else prices.set(key, { minor, pieces, source, at, by })
  }
  return { ofPart, ofBatch }
}

/** Says what a part, or the pieces of one batch, would cost to buy again; an empty amount takes the price back. Earlier ones are kept. */
export function setPrice(turn: Turn, actor: Actor, input: z.output<typeof priceIn>): { minor: number | null } {
  const { amount, pieces, source } = input
  const subject = 'batchId' in input ? `batch:${getBatch(turn, input.batchId).code}` : `part:${getPart(turn, input.partId).id}`
  const minor = amount === '' ? null : parseMoney(amount, getCampaign(turn).currency, 'amount')
  const of = 'batchId' in input ? { partId: null, batchId: input.batchId } : { partId: input.partId, batchId: null }
  insertPrice(turn.db, { id: turn.dice.id(), ...of, minor, pieces, source, at: turn.now, byPersonId: actor.personId })
  turn.record({ kind: 'part.priced', subject, body: { ...of, minor, pieces } })
  return { minor }
}
