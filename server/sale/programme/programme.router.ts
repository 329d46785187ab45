import { findCampaign } from '#people/campaign/campaign.service'
import { getDay } from '#people/campaign/stream-days.service'
import { anyone, confirmed, router, staff } from '#runtime/call/base'
import { holdAllIn, holdIn, resumeIn } from '../closings/closings.contract'
import { holdClosings, holdLot } from '../closings/holds.service'
import { lotAnswer } from '../lots/lot-answer.rules'
import { resumeDay, resumeLotOfDay } from './after-hold.service'
import { readChanges } from './changes.service'
import { addStreamDay, listStreamDays, moveStreamDay, removeStreamDay } from './days.service'
import { askIfLate, listLateLots } from './late-parts.service'
import {
  addDayIn,
  announceIn,
  audienceIn,
  dayIn,
  endLaterIn,
  moveDayIn,
  moveItemIn,
  planItemIn,
  removeDayIn,
  removeItemIn,
  resizeItemIn,
  resumeAllIn,
} from './programme.contract'
import * as programme from './programme.service'
import { lengthenSpan, shortenSpan } from './spans.service'

const planner = staff('maker', 'host')

export const programmeRouter = router({
  /** Null before there is a campaign. */
  open: anyone.query(({ ctx }) => (findCampaign(ctx.sight()) ? programme.publicProgramme(ctx.sight()) : null)),
  /** What changed in it, when and why; null before there is a campaign. */
  changes: anyone.query(({ ctx }) => (findCampaign(ctx.sight()) ? readChanges(ctx.sight()) : null)),
  day: staff('maker', 'host', 'volunteer', 'treasurer')
    .input(dayIn)
    .query(({ ctx, input }) => (findCampaign(ctx.sight()) ? programme.readDay(ctx.sight(), input) : null)),
  /** Lots whose machines lack parts that come too late. */
  lateParts: staff('maker', 'host', 'volunteer', 'treasurer').query(({ ctx }) =>
    findCampaign(ctx.sight()) ? listLateLots(ctx.sight(), ctx.builder) : [],
  ),
  plan: planner.input(planItemIn).mutation(async ({ ctx, input }) => {
    if (input.announce && !input.evenIfLate) await askIfLate(ctx.sight(), ctx.builder, ({ lot }) => lot === input.lot)
    return ctx.command((turn) => programme.planItem(turn, input))
  }),
  move: planner.input(moveItemIn).mutation(({ ctx, input }) => ctx.command((turn) => programme.moveItem(turn, input))),
  shorten: planner.input(resizeItemIn).mutation(({ ctx, input }) => ctx.command((turn) => shortenSpan(turn, input))),
  lengthen: planner.input(resizeItemIn).mutation(({ ctx, input }) => ctx.command((turn) => lengthenSpan(turn, input))),
  remove: planner.input(removeItemIn).mutation(({ ctx, input }) => ctx.command((turn) => programme.removeItem(turn, input.itemId))),
  announce: planner.input(announceIn).mutation(async ({ ctx, input }) => {
    const here = new Set(programme.listItemsOfDay(ctx.sight(), getDay(ctx.sight(), input.day)).map(({ id }) => id))
    if (!input.evenIfLate) await askIfLate(ctx.sight(), ctx.builder, ({ itemId }) => itemId !== null && here.has(itemId))
    return ctx.command((turn) => programme.announceProgramme(turn, input.evenIfSoon, input.day))
  }),

  // Clocks stop and go on here and not among the bids: the rest of the day moves with them.
  hold: planner.input(holdIn).mutation(({ ctx, input }) => ctx.command((turn) => lotAnswer(holdLot(turn, ctx.actor, input)))),
  resume: planner.input(resumeIn).mutation(({ ctx, input }) => ctx.command((turn) => lotAnswer(resumeLotOfDay(turn, ctx.actor, input)))),
  holdAll: planner.input(holdAllIn).mutation(({ ctx, input }) => ctx.command((turn) => holdClosings(turn, ctx.actor, input))),
  resumeAll: planner.input(resumeAllIn).mutation(({ ctx, input }) => ctx.command((turn) => resumeDay(turn, ctx.actor, input))),

  // As the rest of the campaign, its days are the maker's, who has proved lately to be there.
  days: staff('maker').query(({ ctx }) => (findCampaign(ctx.sight()) ? listStreamDays(ctx.sight()) : [])),
  addDay: confirmed('maker')
    .input(addDayIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => addStreamDay(turn, ctx.actor, input))),
  moveDay: confirmed('maker')
    .input(moveDayIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => moveStreamDay(turn, ctx.actor, input))),
  removeDay: confirmed('maker')
    .input(removeDayIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => removeStreamDay(turn, ctx.actor, input))),

  endLater: planner.input(endLaterIn).mutation(({ ctx, input }) => ctx.command((turn) => programme.endLater(turn, ctx.actor, input))),

  audience: planner.input(audienceIn).mutation(({ ctx, input }) => ctx.command((turn) => programme.setAudience(turn, input))),
})
