import type { Fact as Fact0 } from '../../runtime/elsewhere/fact'
import type { Fact as Fact1 } from '../../runtime/queue/fact'
export type Fact = Fact0
