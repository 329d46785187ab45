import type { Fact as Fact0 } from '../../sale/bids/fact'
import type { Fact as Fact1 } from '../../sale/letters/fact'
export type Fact = Fact0
