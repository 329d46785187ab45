import type { Fact as Fact0 } from '../../runtime/disk/fact'
import type { Fact as Fact1 } from '../../runtime/nats/fact'
export type Fact = Fact0
