import type { Fact as Fact0 } from '../../runtime/workers/fact'
import type { Fact as Fact1 } from '../../runtime/live/fact'
export type Fact = Fact0
