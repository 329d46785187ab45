import type { Fact as Fact0 } from '../../bench/faults/fact'
import type { Fact as Fact1 } from '../../bench/units/fact'
export type Fact = Fact0
