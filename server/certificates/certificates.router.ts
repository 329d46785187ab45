import { anyone, router, staff } from '../trpc/base'
import { serialIn, unitTagIn, withdrawIn } from './certificates.contract'
import * as certificates from './certificates.service'

export const certificatesRouter = router({
  record: anyone.input(unitTagIn).query(({ ctx, input }) => certificates.recordOf(ctx.sight(), input)),

  show: anyone.input(serialIn).query(({ ctx, input }) => certificates.certificateOf(ctx.sight(), input.serial)),

  readiness: staff('maker', 'volunteer')
    .input(unitTagIn)
    .query(({ ctx, input }) => certificates.readinessOf(ctx.sight(), input)),

  issue: staff('maker')
    .input(unitTagIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => certificates.issueCertificate(turn, ctx.actor, input))),

  withdraw: staff('maker')
    .input(withdrawIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => certificates.withdrawCertificate(turn, input))),
})
