import type { Fact as Fact0 } from '../../money/bank/fact'
import type { Fact as Fact1 } from '../../money/pictures/fact'
export type Fact = Fact0
