import { airRouter } from '../air/air.router'
import { bankRouter } from '../bank/bank.router'
import { biddingRouter } from '../bidding/bidding.router'
import { bringupRouter } from '../bringup/bringup.router'
import { campaignRouter } from '../campaign/campaign.router'
import { certificatesRouter } from '../certificates/certificates.router'
import { creditsRouter } from '../credits/credits.router'
import { designsRouter } from '../designs/designs.router'
import { donorsRouter } from '../donors/donors.router'
import { faultsRouter } from '../faults/faults.router'
import { invoicesRouter } from '../invoices/invoices.router'
import { keepingRouter } from '../keeping/keeping.router'
import { lotsRouter } from '../lots/lots.router'
import { moneyRouter } from '../money/money.router'
import { outboxRouter } from '../outbox/outbox.router'
import { parcelsRouter } from '../parcels/parcels.router'
import { partsRouter } from '../parts/parts.router'
import { peopleRouter } from '../people/people.router'
import { planningRouter } from '../planning/planning.router'
import { programmeRouter } from '../programme/programme.router'
import { quarantineRouter } from '../quarantine/quarantine.router'
import { rehearsalRouter } from '../rehearsal/rehearsal.router'
import { reliefRouter } from '../relief/relief.router'
import { sendingRouter } from '../sending/sending.router'
import { simulationRouter } from '../simulation/simulation.router'
import { yoursRouter } from '../yours/yours.router'
import { callerOf, router } from './base'

export const rootRouter = router({
  air: airRouter,
  bank: bankRouter,
  bidding: biddingRouter,
  bringup: bringupRouter,
  campaign: campaignRouter,
  designs: designsRouter,
  certificates: certificatesRouter,
  donors: donorsRouter,
  faults: faultsRouter,
  invoices: invoicesRouter,
  keeping: keepingRouter,
  lots: lotsRouter,
  credits: creditsRouter,
  money: moneyRouter,
  relief: reliefRouter,
  outbox: outboxRouter,
  parcels: parcelsRouter,
  parts: partsRouter,
  people: peopleRouter,
  quarantine: quarantineRouter,
  planning: planningRouter,
  programme: programmeRouter,
  sending: sendingRouter,
  rehearsal: rehearsalRouter,
  simulation: simulationRouter,
  yours: yoursRouter,
})

export type RootRouter = typeof rootRouter

export const createCaller = callerOf(rootRouter)
