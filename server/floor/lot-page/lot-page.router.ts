import { anyone, router } from '#runtime/call/base'
import { lotIn } from '#sale/lots/lots.contract'
import { listPublicCards, readLotPage } from './lot-page.service'

export const lotPageRouter = router({
  cards: anyone.query(({ ctx }) => listPublicCards(ctx.sight())),
  page: anyone.input(lotIn).query(({ ctx, input }) => readLotPage(ctx.sight(), input.lot)),
})
