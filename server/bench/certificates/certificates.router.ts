import { anyone, router, staff } from '#runtime/call/base'
import { issueIn, serialIn, shareHomeIn, unitTagIn } from './certificates.contract'
import * as certificates from './certificates.service'
import { homeChecks, homeReports, shareHome } from './home.service'

export const certificatesRouter = router({
  show: anyone.input(serialIn).query(({ ctx, input }) => certificates.certificateOf(ctx.sight(), input.serial)),

  home: anyone.input(unitTagIn).query(({ ctx, input }) => homeChecks(ctx.sight(), input)),

  homeReports: staff('maker', 'volunteer')
    .input(unitTagIn)
    .query(({ ctx, input }) => homeReports(ctx.sight(), input)),

  shareHome: anyone.input(shareHomeIn).mutation(({ ctx, input }) => ctx.command((turn) => shareHome(turn, input))),

  readiness: staff('maker', 'volunteer')
    .input(unitTagIn)
    .query(({ ctx, input }) => certificates.readinessOf(ctx.sight(), input)),

  issue: staff('maker')
    .input(issueIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => certificates.issueCertificate(turn, ctx.actor, input))),
})
