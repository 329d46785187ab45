import type { Fact as Fact0 } from '../../money/invoices/fact'
import type { Fact as Fact1 } from '../../money/relief/fact'
export type Fact = Fact0
