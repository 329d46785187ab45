import { findCampaign } from '#people/campaign/campaign.service'
import { router, staff } from '#runtime/call/base'
import { readAccount } from './account.service'
import { readChecklist } from './checklist.service'
import { forgetContacts, readContacts, setTerm } from './forget.service'
import { forgetIn, packIn, packNameIn, tellAllIn, termIn } from './keeping.contract'
import { clearAfterForgetting, readPacks, removePack, startPack } from './packs.service'
import { readTelling, tellAll } from './telling.service'

const keeps = staff('maker', 'treasurer')
const maker = staff('maker')

export const keepingRouter = router({
  /** Null before there is a campaign, here and below. */
  checklist: keeps.query(({ ctx }) => (findCampaign(ctx.sight()) ? readChecklist(ctx.sight(), ctx.actor) : null)),
  account: keeps.query(({ ctx }) => (findCampaign(ctx.sight()) ? readAccount(ctx.sight()) : null)),
  packs: keeps.query(({ ctx }) => readPacks(ctx.sight(), ctx.keeper)),
  startPack: keeps.input(packIn).mutation(({ ctx, input }) => startPack(ctx.sight(), ctx.keeper, ctx.actor, input)),
  stopPack: keeps.mutation(({ ctx }) => ctx.keeper.stop()),
  removePack: keeps.input(packNameIn).mutation(({ ctx, input }) => removePack(ctx.keeper, input.fileName)),
  contacts: maker.query(({ ctx }) => readContacts(ctx.sight())),
  setTerm: maker.input(termIn).mutation(({ ctx, input }) => ctx.command((turn) => setTerm(turn, ctx.actor, input))),
  forget: maker.input(forgetIn).mutation(async ({ ctx, input }) => {
    const forgotten = await ctx.command((turn) => forgetContacts(turn, ctx.actor, input))
    clearAfterForgetting(ctx.sight(), ctx.keeper, forgotten)
    return { counts: forgotten.counts }
  }),
  telling: maker.query(({ ctx }) => (findCampaign(ctx.sight()) ? readTelling(ctx.sight()) : null)),
  tellAll: maker.input(tellAllIn).mutation(({ ctx, input }) => ctx.command((turn) => tellAll(turn, ctx.actor, input))),
})
