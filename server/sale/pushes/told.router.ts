import { addDeviceIn, removeDeviceIn } from '#people/devices/devices.contract'
import { addDevice, removeDevice } from '#people/devices/devices.service'
import { router, signedIn } from '#runtime/call/base'
import { wantIn } from './told.contract'
import { readHowTold, want } from './wishes.service'

export const toldRouter = router({
  mine: signedIn.query(({ ctx }) => readHowTold(ctx.sight(), ctx.actor)),
  addDevice: signedIn
    .input(addDeviceIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => addDevice(turn, ctx.actor, input, ctx.device()))),
  removeDevice: signedIn.input(removeDeviceIn).mutation(({ ctx, input }) => ctx.command((turn) => removeDevice(turn, ctx.actor, input))),
  want: signedIn.input(wantIn).mutation(({ ctx, input }) => ctx.command((turn) => want(turn, ctx.actor, input))),
})
