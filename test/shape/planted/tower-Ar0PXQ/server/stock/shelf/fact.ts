import type { Fact as Fact0 } from '../../bench/designs/fact'
import type { Fact as Fact1 } from '../../stock/donors/fact'
export type Fact = Fact0
