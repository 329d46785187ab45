import type { Fact as Fact0 } from '../../money/forecast/fact'
import type { Fact as Fact1 } from '../../money/matching/fact'
export type Fact = Fact0
