import { rehearsalRouter } from '#air/rehearsal/rehearsal.router'
import { airRouter } from '#air/screens/air.router'
import { tellingRouter } from '#air/telling/telling.router'
import { buildableRouter } from '#bench/buildable/buildable.router'
import { certificatesRouter } from '#bench/certificates/certificates.router'
import { designsRouter } from '#bench/designs/designs.router'
import { earlierRouter } from '#bench/earlier/earlier.router'
import { faultsRouter } from '#bench/faults/faults.router'
import { spentRouter } from '#bench/spent/spent.router'
import { tagsRouter } from '#bench/units/tags.router'
import { closeOutRouter } from '#end/close-out/close-out.router'
import { deletionRouter } from '#end/deletion/deletion.router'
import { lastLettersRouter } from '#end/last-letters/last-letters.router'
import { lessonsRouter } from '#end/lessons/lessons.router'
import { nextCampaignRouter } from '#end/next-campaign/next-campaign.router'
import { packsRouter } from '#end/packs/packs.router'
import { statementRouter } from '#end/statement/statement.router'
import { bringupRouter } from '#floor/bringup/bringup.router'
import { lotPageRouter } from '#floor/lot-page/lot-page.router'
import { quarantineRouter } from '#floor/quarantine/quarantine.router'
import { recordRouter } from '#floor/record/record.router'
import { creditsRouter } from '#gifts/credits/credits.router'
import { outcomeRouter } from '#gifts/outcome/outcome.router'
import { giftsRouter } from '#gifts/parcels/gifts.router'
import { parcelsRouter } from '#gifts/parcels/parcels.router'
import { sheetsRouter } from '#gifts/sheets/sheets.router'
import { yoursRouter } from '#gifts/yours/yours.router'
import { bankRouter } from '#money/bank/bank.router'
import { bookingRouter } from '#money/booking/booking.router'
import { booksRouter } from '#money/books/books.router'
import { documentsRouter } from '#money/documents/documents.router'
import { fixedPriceRouter } from '#money/fixed-price/fixed-price.router'
import { forecastRouter } from '#money/forecast/forecast.router'
import { invoicesRouter } from '#money/invoices/invoices.router'
import { matchingRouter } from '#money/matching/matching.router'
import { picturesRouter } from '#money/pictures/pictures.router'
import { proceedsRouter } from '#money/proceeds/proceeds.router'
import { reliefRouter } from '#money/relief/relief.router'
import { sendingRouter } from '#money/sending/sending.router'
import { campaignRouter } from '#people/campaign/campaign.router'
import { changesRouter } from '#people/changes/changes.router'
import { outboxRouter } from '#people/outbox/outbox.router'
import { confirmRouter } from '#people/people/confirm.router'
import { peopleRouter } from '#people/people/people.router'
import { passkeysRouter } from '#people/sign-in/passkeys.router'
import { sessionsRouter } from '#people/sign-in/sessions.router'
import { vitalsRouter } from '#people/vitals/vitals.router'
import { callerOf, router } from '#runtime/call/base'
import { biddingRouter } from '#sale/bidding/bidding.router'
import { eitherOrRouter } from '#sale/either-or/either-or.router'
import { lotsRouter } from '#sale/lots/lots.router'
import { planningRouter } from '#sale/planning/planning.router'
import { programmeRouter } from '#sale/programme/programme.router'
import { toldRouter } from '#sale/pushes/told.router'
import { simulationRouter } from '#sale/simulation/simulation.router'
import { partsRouter } from '#stock/catalogue/parts.router'
import { donorsRouter } from '#stock/donors/donors.router'
import { shelfRouter } from '#stock/shelf/shelf.router'

export const rootRouter = router({
  air: airRouter,
  bank: bankRouter,
  bidding: biddingRouter,
  bringup: bringupRouter,
  buildable: buildableRouter,
  campaign: campaignRouter,
  changes: changesRouter,
  designs: designsRouter,
  eitherOr: eitherOrRouter,
  certificates: certificatesRouter,
  donors: donorsRouter,
  faults: faultsRouter,
  gifts: giftsRouter,
  documents: documentsRouter,
  invoices: invoicesRouter,
  statement: statementRouter,
  lastLetters: lastLettersRouter,
  packs: packsRouter,
  deletion: deletionRouter,
  closeOut: closeOutRouter,
  lessons: lessonsRouter,
  nextCampaign: nextCampaignRouter,
  lotPage: lotPageRouter,
  lots: lotsRouter,
  credits: creditsRouter,
  spent: spentRouter,
  booking: bookingRouter,
  matching: matchingRouter,
  proceeds: proceedsRouter,
  forecast: forecastRouter,
  fixedPrice: fixedPriceRouter,
  pictures: picturesRouter,
  books: booksRouter,
  relief: reliefRouter,
  outbox: outboxRouter,
  outcome: outcomeRouter,
  parcels: parcelsRouter,
  sheets: sheetsRouter,
  earlier: earlierRouter,
  parts: partsRouter,
  people: peopleRouter,
  confirm: confirmRouter,
  passkeys: passkeysRouter,
  sessions: sessionsRouter,
  quarantine: quarantineRouter,
  record: recordRouter,
  planning: planningRouter,
  programme: programmeRouter,
  sending: sendingRouter,
  rehearsal: rehearsalRouter,
  shelf: shelfRouter,
  simulation: simulationRouter,
  tags: tagsRouter,
  vitals: vitalsRouter,
  telling: tellingRouter,
  told: toldRouter,
  yours: yoursRouter,
})

export type RootRouter = typeof rootRouter

export const createCaller = callerOf(rootRouter)
