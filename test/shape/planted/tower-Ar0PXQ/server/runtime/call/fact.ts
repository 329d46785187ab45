import type { Fact as Fact0 } from '../../runtime/vitals/fact'
import type { Fact as Fact1 } from '../../runtime/workers/fact'
export type Fact = Fact0
