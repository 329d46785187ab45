import type { Fact as Fact0 } from '../../runtime/live/fact'
import type { Fact as Fact1 } from '../../runtime/elsewhere/fact'
export type Fact = Fact0
