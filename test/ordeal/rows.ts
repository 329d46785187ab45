import { killed } from './rows/killed'
import { oneOrder } from './rows/one-order'
import { repeated } from './rows/repeated'
import type { Row } from './trial'

/** Every row, in the order of the table. A new one is a file in rows/ and a line here. */
export const ROWS: readonly Row[] = [killed, oneOrder, repeated]
