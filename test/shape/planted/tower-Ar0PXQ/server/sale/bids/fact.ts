import type { Fact as Fact0 } from '../../sale/fairness/fact'
import type { Fact as Fact1 } from '../../sale/pushes/fact'
export type Fact = Fact0
