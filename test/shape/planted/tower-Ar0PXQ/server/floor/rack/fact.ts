import type { Fact as Fact0 } from '../../floor/bringup/fact'
import type { Fact as Fact1 } from '../../money/invoices/fact'
export type Fact = Fact0
