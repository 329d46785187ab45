import type { Fact as Fact0 } from '../../money/matching/fact'
import type { Fact as Fact1 } from '../../money/journal/fact'
export type Fact = Fact0
