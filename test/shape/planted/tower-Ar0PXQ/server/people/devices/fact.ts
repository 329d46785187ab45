import type { Fact as Fact0 } from '../../people/vitals/fact'
import type { Fact as Fact1 } from '../../people/outbox/fact'
export type Fact = Fact0
