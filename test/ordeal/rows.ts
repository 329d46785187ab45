import { atTheClose } from './rows/at-the-close'
import { clocks } from './rows/clocks'
import { earlierSchemas } from './rows/earlier-schemas'
import { killed } from './rows/killed'
import { locked } from './rows/locked'
import { mutants } from './rows/mutants'
import { namedSteps } from './rows/named-steps'
import { noRoom } from './rows/no-room'
import { oddFlood } from './rows/odd-flood'
import { oneOrder } from './rows/one-order'
import { repeated } from './rows/repeated'
import { silentVisitors } from './rows/silent-visitors'
import { syncOrder } from './rows/sync-order'
import { turnedBytes } from './rows/turned-bytes'
import { watchers } from './rows/watchers'
import type { Row } from './trial'

/** Every row, in the order of the table. A new one is a file in rows/ and a line here. */
export const ROWS: readonly Row[] = [
  killed,
  namedSteps,
  syncOrder,
  oneOrder,
  repeated,
  atTheClose,
  clocks,
  noRoom,
  locked,
  earlierSchemas,
  turnedBytes,
  watchers,
  silentVisitors,
  oddFlood,
  mutants,
]
