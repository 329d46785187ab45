import type { Fact as Fact0 } from '../../sale/bidding/fact'
import type { Fact as Fact1 } from '../../sale/either-or/fact'
export type Fact = Fact0
