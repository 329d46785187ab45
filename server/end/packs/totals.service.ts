import { createHash } from 'node:crypto'
import canonicalize from 'canonicalize'
import { findCertificate } from '#bench/certificates/certificates.service'
import { flattened } from '#bench/certificates/jws.rules'
import { listCertificates } from '#bench/certificates/standing.service'
import { readCredits } from '#gifts/credits/credits.service'
import { listSoldLots } from '#money/journal/sold.service'
import { proceeds } from '#money/proceeds/proceeds.service'
import { findCampaign } from '#people/campaign/campaign.service'
import { inCampaign, listCampaigns } from '#people/campaign/which.service'
import type { Sight } from '#runtime/queue/turn'
import { readHistory } from '#sale/history/history.service'
import { listLots } from '#sale/lots/lots.service'
import { readAccount } from '../statement/account.service'

/**
 * Every view in a few words: sums of money as they are, and a digest of each thing that is longer. Two houses with the same
 * totals show the same proceeds, statement, lots' accounts, credits, histories and certificates.
 */
export function readTotals(sight: Sight): Record<string, number | string> {
  if (!findCampaign(sight)) return {}
  const earlier = listCampaigns(sight).filter(({ endedAt }) => endedAt !== null)
  return {
    ...totalsOfCampaign(sight),
    ...Object.fromEntries(
      earlier.flatMap(({ number, slug }) =>
        Object.entries(totalsOfCampaign(inCampaign(sight, number))).map(([name, figure]) => [`${slug}: ${name}`, figure]),
      ),
    ),
    ...Object.fromEntries(
      listCertificates(sight).map(({ serial }) => {
        const found = findCertificate(sight, serial)
        return [`certificate ${serial}`, digest(found && { ...flattened(found.row), state: found.state })]
      }),
    ),
  }
}

function totalsOfCampaign(sight: Sight): Record<string, number | string> {
  const { currency: _currency, causeName: _cause, causeShareBp: _share, sharesDiffer: _differ, lots: counted, ...sums } = proceeds(sight)
  const account = readAccount(sight)
  return {
    ...named('proceeds', { ...sums, ...counted }),
    ...named('statement', account.sums),
    'statement variance': account.varianceMinor,
    'journal head': account.head.digest,
    ...Object.fromEntries(listSoldLots(sight).map((lot) => [`account of lot ${lot.number}`, digest(lot)])),
    credits: digest(readCredits(sight)),
    ...Object.fromEntries(
      listLots(sight).flatMap(({ number, ledgerSize }) =>
        ledgerSize > 0 ? [[`history of lot ${number}`, digest(readHistory(sight, number))]] : [],
      ),
    ),
  }
}

const named = (head: string, figures: Readonly<Record<string, number>>) =>
  Object.fromEntries(Object.entries(figures).map(([name, figure]) => [`${head} ${name}`, figure]))

const digest = (view: unknown): string =>
  createHash('sha256')
    .update(canonicalize(JSON.parse(JSON.stringify(view))) ?? '')
    .digest('hex')

type Totals = Readonly<Record<string, number | string>>

/** The names of the views that are not the same in both. */
export const differing = (one: Totals, other: Totals): string[] =>
  [...new Set([...Object.keys(one), ...Object.keys(other)])].filter((name) => one[name] !== other[name])

/** The same where an earlier program made one of them: a view may say more since, so its digest is another, but no sum has changed. */
export const differingSums = (one: Totals, other: Totals): string[] =>
  Object.keys(one).filter((name) => typeof one[name] === 'number' && name in other && one[name] !== other[name])
