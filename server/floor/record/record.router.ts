import { unitTagIn } from '#bench/certificates/certificates.contract'
import { anyone, router } from '#runtime/call/base'
import { recordOf } from './record.service'

export const recordRouter = router({
  ofUnit: anyone.input(unitTagIn).query(({ ctx, input }) => recordOf(ctx.sight(), input)),
})
