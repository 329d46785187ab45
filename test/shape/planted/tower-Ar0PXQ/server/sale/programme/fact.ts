import type { Fact as Fact0 } from '../../sale/planning/fact'
import type { Fact as Fact1 } from '../../sale/bidding/fact'
export type Fact = Fact0
