import { z } from 'zod'
import { becameOf } from '#gifts/outcome/became.service'
import { soldThanksFor } from '#gifts/outcome/sold-thanks.service'
import { thanksFor } from '#gifts/outcome/thanks.service'
import { doublesOf, mergeDonors, previewMerge } from '#gifts/parcels/merge.service'
import { changeRestriction, goalsOf, restrictionIn } from '#gifts/parcels/restrict.service'
import { limited, router, staff } from '#runtime/call/base'
import { listOpenForExtras, lotsOfExtras, putWithLot } from '#sale/lots/extras.service'
import { getLotRowById } from '#sale/lots/lots.service'
import {
  consentIn,
  declineIn,
  donorChangeIn,
  donorIn,
  giftIn,
  mergeIn,
  promiseIn,
  putWithLotIn,
  recountGiftIn,
  restrictIn,
} from './donor.contract'
import { addDonor, answerNaming, changeDonor, getDonor, listDonors, mergedInto, setConsent } from './donor.service'
import { addGift, getGift, giftChanges, giftsOf, listGifts, promisesToApprove } from './gift.service'
import { recountGift } from './gift-change.service'
import { linkMadeAt } from './link.service'
import { approvePromise, declinePromise, promiseGift } from './promise.service'

const handles = staff('maker', 'volunteer')
const maker = staff('maker')

/** Readers promise a few parts; a script promises thousands. */
const promising = limited({
  name: 'promise',
  each: 12,
  all: 120,
  perMinutes: 10,
  words: 'Many promises came from here just now. What you wrote is still in the form.',
})

export const donorsRouter = router({
  list: handles.query(({ ctx }) => {
    const sight = ctx.sight()
    return { donors: listDonors(sight), gifts: listGifts(sight), toApprove: promisesToApprove(sight) }
  }),
  one: handles.input(z.strictObject({ donorId: z.string() })).query(({ ctx, input }) => {
    const sight = ctx.sight()
    const donor = getDonor(sight, input.donorId)
    const gifts = giftsOf(sight, donor.id)
    const ids = gifts.map((line) => line.id)
    return {
      donor,
      gifts,
      changes: giftChanges(sight, ids),
      became: becameOf(sight, gifts),
      thanks: thanksFor(sight, donor),
      soldThanks: soldThanksFor(sight, donor),
      withLots: lotsOfExtras(sight, ids).map(({ giftId, lotId }) => ({ giftId, number: getLotRowById(sight, lotId).number })),
      mergedRecords: mergedInto(sight, donor.id).map(({ id, name, contact, mergedAt }) => ({ id, name, contact, mergedAt })),
      doubles: doublesOf(sight, donor),
      linkMadeAt: linkMadeAt(sight, donor.id),
    }
  }),
  /** What a gift may be kept for or go with: units, designs, and lots that are not open yet. */
  goals: handles.query(({ ctx }) => ({ ...goalsOf(ctx.sight()), lots: listOpenForExtras(ctx.sight()) })),
  add: handles.input(donorIn).mutation(({ ctx, input }) => ctx.command((turn) => addDonor(turn, ctx.actor, input))),
  change: handles.input(donorChangeIn).mutation(({ ctx, input }) => ctx.command((turn) => changeDonor(turn, ctx.actor, input))),
  answerNaming: handles
    .input(z.strictObject({ donorId: z.string(), isTaken: z.boolean() }))
    .mutation(({ ctx, input }) => ctx.command((turn) => answerNaming(turn, input.donorId, input.isTaken))),
  consent: handles.input(consentIn).mutation(({ ctx, input }) => ctx.command((turn) => setConsent(turn, ctx.actor, input))),
  addGift: handles.input(giftIn).mutation(({ ctx, input }) =>
    ctx.command((turn) => {
      restrictionIn(turn, input)
      return addGift(turn, ctx.actor, input)
    }),
  ),
  recount: handles.input(recountGiftIn).mutation(({ ctx, input }) => ctx.command((turn) => recountGift(turn, ctx.actor, input))),
  restrict: handles.input(restrictIn).mutation(({ ctx, input }) => ctx.command((turn) => changeRestriction(turn, ctx.actor, input))),
  putWithLot: handles.input(putWithLotIn).mutation(({ ctx, input }) =>
    ctx.command((turn) => {
      const { id, what } = getGift(turn, input.giftId)
      putWithLot(turn, { id, words: what }, input.lot)
    }),
  ),
  previewMerge: handles.input(mergeIn).query(({ ctx, input }) => previewMerge(ctx.sight(), input)),
  merge: maker.input(mergeIn).mutation(({ ctx, input }) => ctx.command((turn) => mergeDonors(turn, ctx.actor, input))),
  approve: maker
    .input(z.strictObject({ giftId: z.string() }))
    .mutation(({ ctx, input }) => ctx.command((turn) => approvePromise(turn, ctx.actor, input.giftId))),
  decline: maker.input(declineIn).mutation(({ ctx, input }) => ctx.command((turn) => declinePromise(turn, ctx.actor, input))),
  promise: promising.input(promiseIn).mutation(({ ctx, input }) => ctx.command((turn) => promiseGift(turn, input))),
})
