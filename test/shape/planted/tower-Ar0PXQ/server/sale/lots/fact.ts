import type { Fact as Fact0 } from '../../sale/history/fact'
import type { Fact as Fact1 } from '../../sale/price/fact'
export type Fact = Fact0
