import { router, staff } from '#runtime/call/base'
import { listOpenForExtras, putWithLot } from '#sale/lots/extras.service'
import { giftIn, giftMoveIn, recountGiftIn } from '#stock/donors/donor.contract'
import { addGift, getGift } from '#stock/donors/gift.service'
import { recountGift } from '#stock/donors/gift-change.service'
import { putWithLotIn, restrictIn } from './gift.contract'
import { moveArrivedGift } from './gift-move.service'
import { changeRestriction, goalsOf, restrictionIn } from './restrict.service'

const handles = staff('maker', 'volunteer')

export const giftsRouter = router({
  /** What a gift may be kept for or go with: units, designs, and lots that are not open yet. */
  goals: handles.query(({ ctx }) => ({ ...goalsOf(ctx.sight()), lots: listOpenForExtras(ctx.sight()) })),
  add: handles.input(giftIn).mutation(({ ctx, input }) =>
    ctx.command((turn) => {
      restrictionIn(turn, input)
      return addGift(turn, ctx.actor, input)
    }),
  ),
  move: handles.input(giftMoveIn).mutation(({ ctx, input }) => ctx.command((turn) => moveArrivedGift(turn, ctx.actor, input))),
  recount: handles.input(recountGiftIn).mutation(({ ctx, input }) => ctx.command((turn) => recountGift(turn, ctx.actor, input))),
  restrict: handles.input(restrictIn).mutation(({ ctx, input }) => ctx.command((turn) => changeRestriction(turn, ctx.actor, input))),
  putWithLot: handles.input(putWithLotIn).mutation(({ ctx, input }) =>
    ctx.command((turn) => {
      const { id, what } = getGift(turn, input.giftId)
      putWithLot(turn, { id, words: what }, input.lot)
    }),
  ),
})
