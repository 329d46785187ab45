import type { Fact as Fact0 } from '../../doors/papers/fact'
import type { Fact as Fact1 } from '../../end/deletion/fact'
export type Fact = Fact0
