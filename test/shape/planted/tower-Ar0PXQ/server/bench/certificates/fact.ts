import type { Fact as Fact0 } from '../../sale/price/fact'
import type { Fact as Fact1 } from '../../bench/faults/fact'
export type Fact = Fact0
