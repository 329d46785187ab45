import { z } from 'zod'
import { idIn } from '#kernel/text'
import { limited, router, staff } from '#runtime/call/base'
import { consentIn, declineIn, donorChangeIn, donorIn, promiseIn } from './donor.contract'
import { addDonor, answerNaming, changeDonor, listDonors, listed, setConsent } from './donor.service'
import { listGifts, promisesToApprove } from './gift.service'
import { approvePromise, declinePromise, promiseGift } from './promise.service'

const handles = staff('maker', 'volunteer')
const maker = staff('maker')

/** Readers promise a few parts; a script promises thousands. */
const promising = limited({
  name: 'promise',
  each: 12,
  all: 120,
  perMinutes: 10,
  words: 'A lot of promises have just come from here. What you wrote is still in the form.',
})

export const donorsRouter = router({
  list: handles.query(({ ctx }) => {
    const sight = ctx.sight()
    return { donors: listDonors(sight).map(listed), gifts: listGifts(sight), toApprove: promisesToApprove(sight) }
  }),
  add: handles.input(donorIn).mutation(({ ctx, input }) => ctx.command((turn) => addDonor(turn, ctx.actor, input))),
  change: handles.input(donorChangeIn).mutation(({ ctx, input }) => ctx.command((turn) => changeDonor(turn, ctx.actor, input))),
  answerNaming: handles
    .input(z.strictObject({ donorId: idIn(), isTaken: z.boolean() }))
    .mutation(({ ctx, input }) => ctx.command((turn) => answerNaming(turn, input.donorId, input.isTaken))),
  consent: handles.input(consentIn).mutation(({ ctx, input }) => ctx.command((turn) => setConsent(turn, ctx.actor, input))),
  promise: promising.input(promiseIn).mutation(({ ctx, input }) => ctx.command((turn) => promiseGift(turn, input))),
  approvePromise: maker
    .input(z.strictObject({ giftId: idIn() }))
    .mutation(({ ctx, input }) => ctx.command((turn) => approvePromise(turn, ctx.actor, input.giftId))),
  declinePromise: maker.input(declineIn).mutation(({ ctx, input }) => ctx.command((turn) => declinePromise(turn, ctx.actor, input))),
})
