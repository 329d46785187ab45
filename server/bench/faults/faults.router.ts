import { router, staff } from '#runtime/call/base'
import { addBoard, boardPage, pinMark, removeBoard, unpinMark } from './board.service'
import { catchTable } from './catches.service'
import {
  addBoardIn,
  boardIn,
  closeFaultIn,
  designOfIn,
  faultOfIn,
  observeIn,
  openFaultIn,
  pinIn,
  pointIn,
  runOfIn,
  setCatchIn,
  unpinIn,
  withdrawFaultIn,
} from './fault.contract'
import { closeFault, openFault, setCatch, withdrawFault } from './faults.service'
import { glanceView } from './glance.service'
import { observe, setPoint } from './observations.service'
import { searchView } from './search.service'

const looks = staff('maker', 'volunteer', 'treasurer', 'host')
const works = staff('maker', 'volunteer')

export const faultsRouter = router({
  search: looks.input(faultOfIn).query(({ ctx, input }) => searchView(ctx.sight(), input.tag)),
  run: looks.input(runOfIn).query(({ ctx, input }) => glanceView(ctx.sight(), input.prefix)),
  catches: looks.input(designOfIn).query(({ ctx, input }) => catchTable(ctx.sight(), input.designId)),

  open: works.input(openFaultIn).mutation(({ ctx, input }) => ctx.command((turn) => openFault(turn, ctx.actor, input))),
  close: works.input(closeFaultIn).mutation(({ ctx, input }) => ctx.command((turn) => closeFault(turn, ctx.actor, input))),
  withdraw: works.input(withdrawFaultIn).mutation(({ ctx, input }) => ctx.command((turn) => withdrawFault(turn, ctx.actor, input))),
  observe: works.input(observeIn).mutation(({ ctx, input }) => ctx.command((turn) => observe(turn, ctx.actor, input))),
  setPoint: works.input(pointIn).mutation(({ ctx, input }) => ctx.command((turn) => setPoint(turn, ctx.actor, input))),
  board: looks.input(designOfIn).query(({ ctx, input }) => boardPage(ctx.sight(), input.designId)),
  addBoard: works.input(addBoardIn).mutation(({ ctx, input }) => ctx.command((turn) => addBoard(turn, ctx.actor, input))),
  removeBoard: works.input(boardIn).mutation(({ ctx, input }) => ctx.command((turn) => removeBoard(turn, ctx.actor, input))),
  pin: works.input(pinIn).mutation(({ ctx, input }) => ctx.command((turn) => pinMark(turn, ctx.actor, input))),
  unpin: works.input(unpinIn).mutation(({ ctx, input }) => ctx.command((turn) => unpinMark(turn, ctx.actor, input))),
  setCatch: staff('maker')
    .input(setCatchIn)
    .mutation(({ ctx, input }) => ctx.command((turn) => setCatch(turn, ctx.actor, input))),
})
