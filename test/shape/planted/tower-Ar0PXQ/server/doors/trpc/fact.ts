import type { Fact as Fact0 } from '../../doors/pages/fact'
import type { Fact as Fact1 } from '../../doors/papers/fact'
export type Fact = Fact0
