import type { Fact as Fact0 } from '../../money/booking/fact'
import type { Fact as Fact1 } from '../../gifts/yours/fact'
export type Fact = Fact0
