import type { Fact as Fact0 } from '../../bench/units/fact'
import type { Fact as Fact1 } from '../../stock/shelf/fact'
export type Fact = Fact0
