import type { Fact as Fact0 } from '../../gifts/credits/fact'
import type { Fact as Fact1 } from '../../sale/planning/fact'
export type Fact = Fact0
