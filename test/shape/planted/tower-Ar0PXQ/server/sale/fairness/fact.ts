import type { Fact as Fact0 } from '../../sale/either-or/fact'
import type { Fact as Fact1 } from '../../sale/bids/fact'
export type Fact = Fact0
