import type { Fact as Fact0 } from '../../money/proceeds/fact'
import type { Fact as Fact1 } from '../../money/booking/fact'
export type Fact = Fact0
