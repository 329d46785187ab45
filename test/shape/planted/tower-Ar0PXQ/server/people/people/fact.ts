import type { Fact as Fact0 } from '../../people/outbox/fact'
import type { Fact as Fact1 } from '../../people/sign-in/fact'
export type Fact = Fact0
