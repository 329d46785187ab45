import { tellingAddresses } from '#air/telling/telling.address'
import { certificateAddresses } from '#bench/certificates/certificates.address'
import { unitPaperAddresses } from '#bench/certificates/unit-papers.address'
import { statementAddresses } from '#end/statement/statement.address'
import { recordAddresses } from '#floor/record/record.address'
import { creditsAddresses } from '#gifts/credits/credits.address'
import { booksAddresses } from '#money/books/books.address'
import { documentsAddresses } from '#money/documents/documents.address'
import { proceedsAddresses } from '#money/proceeds/proceeds.address'
import { packingAddresses } from '#money/sending/packing.address'
import { sendingAddresses } from '#money/sending/sending.address'
import { changesAddresses } from '#people/changes/changes.address'
import type { Address } from '#runtime/call/address'
import { biddingAddresses } from '#sale/history/history.address'
import { lotsAddresses } from '#sale/lots/lots.address'
import { programmeAddresses } from '#sale/programme/programme.address'
import { donorsAddresses } from '#stock/donors/donors.address'
import { labelsAddresses } from '#stock/shelf/labels.address'

/** Every public machine-readable address of the house. One line for each room's. */
export const ADDRESSES: readonly Address[] = [
  ...lotsAddresses,
  ...biddingAddresses,
  // Before the schemas of certificates, whose address takes any name.
  ...booksAddresses,
  ...certificateAddresses,
  ...recordAddresses,
  ...creditsAddresses,
  ...statementAddresses,
  ...proceedsAddresses,
  ...labelsAddresses,
  ...programmeAddresses,
  ...tellingAddresses,
  ...unitPaperAddresses,
  ...donorsAddresses,
  ...documentsAddresses,
  ...packingAddresses,
  ...sendingAddresses,
  ...changesAddresses,
]
