import type { Fact as Fact0 } from '../../sale/closings/fact'
import type { Fact as Fact1 } from '../../sale/fairness/fact'
export type Fact = Fact0
