import type { Fact as Fact0 } from '../../runtime/nats/fact'
import type { Fact as Fact1 } from '../../paper/fact'
export type Fact = Fact0
