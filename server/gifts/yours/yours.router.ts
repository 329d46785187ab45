import { z } from 'zod'
import { idIn } from '#kernel/text'
import { limited, router, staff } from '#runtime/call/base'
import { askLinkAgain, closeLink, mailLink, makeLink, whoseLink } from '#stock/donors/link.service'
import { askLinkIn, openYoursIn, yourConsentIn, yourNamingIn } from './yours.contract'
import { readYours, setYourConsent, setYourNaming } from './yours.service'

const handles = staff('maker', 'volunteer')
const donorIn = z.strictObject({ donorId: idIn() })

/** A donor opens their page from a mail; nobody needs it more often than this, and a key is not found by trying. */
const opening = limited({ name: 'yours', each: 60, all: 600, perMinutes: 10, words: 'A lot of pages have just been opened from here.' })
const asking = limited({ name: 'yours.ask', each: 5, all: 60, perMinutes: 10, words: 'A lot of links have just been asked for from here.' })

export const yoursRouter = router({
  // A mutation though it only reads: a query's input stands in its address, and a key must stand in no log.
  open: opening.input(openYoursIn).mutation(({ ctx, input }) => readYours(ctx.sight(), input.token)),
  consent: opening.input(yourConsentIn).mutation(({ ctx, input }) => ctx.command((turn) => setYourConsent(turn, input))),
  naming: opening.input(yourNamingIn).mutation(({ ctx, input }) => ctx.command((turn) => setYourNaming(turn, input))),
  close: opening.input(openYoursIn).mutation(({ ctx, input }) => ctx.command((turn) => closeLink(turn, whoseLink(turn, input.token).id))),
  askLink: asking.input(askLinkIn).mutation(({ ctx, input }) => ctx.command((turn) => askLinkAgain(turn, input.mail))),
  mailLink: handles.input(donorIn).mutation(({ ctx, input }) => ctx.command((turn) => mailLink(turn, ctx.actor, input.donorId))),
  makeLink: handles
    .input(donorIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => ({ link: makeLink(turn, ctx.actor, input.donorId) }))),
  closeLinks: handles.input(donorIn).mutation(({ ctx, input }) => ctx.command((turn) => closeLink(turn, input.donorId))),
})
