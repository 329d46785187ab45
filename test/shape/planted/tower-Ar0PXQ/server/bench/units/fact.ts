import type { Fact as Fact0 } from '../../bench/buildable/fact'
import type { Fact as Fact1 } from '../../bench/designs/fact'
export type Fact = Fact0
