import type { Fact as Fact0 } from '../../money/sending/fact'
import type { Fact as Fact1 } from '../../money/bank/fact'
export type Fact = Fact0
