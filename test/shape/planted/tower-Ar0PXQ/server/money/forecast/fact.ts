import type { Fact as Fact0 } from '../../money/pictures/fact'
import type { Fact as Fact1 } from '../../money/proceeds/fact'
export type Fact = Fact0
