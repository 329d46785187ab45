import { z } from 'zod'
import { thanksFor } from '../parcels/thanks.service'
import { becameOf } from '../parts/became.service'
import { anyone, router, staff } from '../trpc/base'
import { consentIn, declineIn, donorChangeIn, donorIn, giftIn, promiseIn } from './donor.contract'
import { addDonor, changeDonor, getDonor, listDonors, setConsent } from './donor.service'
import { addGift, giftChanges, giftsOf, listGifts, promisesToApprove } from './gift.service'
import { approvePromise, declinePromise, promiseGift } from './promise.service'

const handles = staff('maker', 'volunteer')

export const donorsRouter = router({
  list: handles.query(({ ctx }) => {
    const sight = ctx.sight()
    return { donors: listDonors(sight), gifts: listGifts(sight), toApprove: promisesToApprove(sight) }
  }),
  one: handles.input(z.strictObject({ donorId: z.string() })).query(({ ctx, input }) => {
    const sight = ctx.sight()
    const donor = getDonor(sight, input.donorId)
    const gifts = giftsOf(sight, donor.id)
    const changes = giftChanges(
      sight,
      gifts.map((line) => line.id),
    )
    return { donor, gifts, changes, became: becameOf(sight, gifts), thanks: thanksFor(sight, donor) }
  }),
  add: handles.input(donorIn).mutation(({ ctx, input }) => ctx.command((turn) => addDonor(turn, ctx.actor, input))),
  change: handles.input(donorChangeIn).mutation(({ ctx, input }) => ctx.command((turn) => changeDonor(turn, ctx.actor, input))),
  consent: handles.input(consentIn).mutation(({ ctx, input }) => ctx.command((turn) => setConsent(turn, ctx.actor, input))),
  addGift: handles.input(giftIn).mutation(({ ctx, input }) => ctx.command((turn) => addGift(turn, ctx.actor, input))),
  approve: staff('maker')
    .input(z.strictObject({ giftId: z.string() }))
    .mutation(({ ctx, input }) => ctx.command((turn) => approvePromise(turn, ctx.actor, input.giftId))),
  decline: staff('maker')
    .input(declineIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => declinePromise(turn, ctx.actor, input))),
  promise: anyone.input(promiseIn).mutation(({ ctx, input }) => ctx.command((turn) => promiseGift(turn, input))),
})
